import { parentPort } from 'node:worker_threads';
import { type Cell, workCell } from './cells.ts';

// Cell by cell, so that no thread is left with the long ones.
parentPort?.on('message', (cell: Cell) => {
  parentPort?.postMessage(workCell(cell));
});
