import { parentPort, workerData } from 'node:worker_threads';
import { type FigureOptions, readFigures } from './read-figures.ts';

/** A thread that reads the figures of one folder after another. */

const port = parentPort;
if (port === null) throw new Error('internal error: the figures worker is not a thread');
const options = workerData as FigureOptions;
// One folder at a time: what is read next waits until this one is answered.
let before: Promise<void> = Promise.resolve();
port.on('message', ({ index, folder }: { index: number; folder: string }) => {
  before = before.then(async () => {
    port.postMessage({ index, read: await readFigures(folder, options) });
  });
});
