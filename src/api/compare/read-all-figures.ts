import { Worker } from 'node:worker_threads';
import { builtPath } from '../../lib/built-path.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import { type FigureOptions, type FiguresRead, readFigures } from './read-figures.ts';

interface Answer {
  readonly index: number;
  readonly read: Result<FiguresRead, readonly Problem[]>;
}

/** So many more than one thread can take at once are worth starting threads for: each needs a tenth of a second to load. */
const fewFolders = 8;
/** Under way in one thread: while one is parsed, others wait for the disk. */
const ahead = 3;
const shownProblems = 20;

/**
 * The figures of folders, in their order, read by as many threads as there are CPUs (at most `threads`). The problems of all
 * folders are returned together, up to twenty.
 */
export async function readAllFigures(
  folders: readonly string[],
  options: FigureOptions,
  threads: number,
): Promise<Result<readonly FiguresRead[], readonly Problem[]>> {
  const reads =
    folders.length <= fewFolders || threads < 2
      ? await readHere(folders, options)
      : await readByThreads(folders, options, Math.min(threads, folders.length));
  const problems = reads.flatMap((read) => (read.ok ? [] : read.error));
  if (problems.length === 0) return ok(reads.flatMap((read) => (read.ok ? [read.value] : [])));
  return err(problems.slice(0, shownProblems));
}

async function readHere(
  folders: readonly string[],
  options: FigureOptions,
): Promise<readonly Answer['read'][]> {
  const reads: Answer['read'][] = [];
  for (const folder of folders) reads.push(await readFigures(folder, options));
  return reads;
}

async function readByThreads(
  folders: readonly string[],
  options: FigureOptions,
  threads: number,
): Promise<readonly Answer['read'][]> {
  const reads: Answer['read'][] = new Array(folders.length);
  const queue = folders.entries();
  await Promise.all(Array.from({ length: threads }, () => runThread(queue, options, reads)));
  return reads;
}

/** One thread, until the queue is empty and all that it was sent is answered. */
async function runThread(
  queue: Iterator<[number, string]>,
  options: FigureOptions,
  reads: Answer['read'][],
): Promise<void> {
  const { isVerified, exclusions, index = null } = options;
  // Without its clock: a function cannot be handed to a thread.
  const place = index === null ? null : { folder: index.folder, tool: index.tool };
  const worker = new Worker(builtPath('./figures-worker.js', import.meta.url), {
    workerData: { isVerified, exclusions, index: place } satisfies FigureOptions,
  });
  try {
    await new Promise<void>((resolve, reject) => {
      let open = 0;
      const sendNext = (): void => {
        const next = queue.next();
        if (next.done === true) return;
        const [index, folder] = next.value;
        open += 1;
        worker.postMessage({ index, folder });
      };
      worker.on('message', ({ index, read }: Answer) => {
        reads[index] = read;
        open -= 1;
        sendNext();
        if (open === 0) resolve();
      });
      worker.on('error', reject);
      worker.on('exit', () => reject(new Error('internal error: a reading thread ended early')));
      for (let count = 0; count < ahead; count += 1) sendNext();
      if (open === 0) resolve();
    });
  } finally {
    worker.removeAllListeners();
    await worker.terminate();
  }
}
