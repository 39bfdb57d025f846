import { parentPort, workerData } from 'node:worker_threads';
import { type FigureOptions, readFigures } from './read-figures.ts';

/** A thread that reads the figures of folders as it is told of them, one waiting for the disk while another is parsed. */

const port = parentPort;
if (port === null) throw new Error('internal error: the figures worker is not a thread');
const options = workerData as FigureOptions;
port.on('message', async ({ index, folder }: { index: number; folder: string }) => {
  port.postMessage({ index, read: await readFigures(folder, options) });
});
