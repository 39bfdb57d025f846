import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';
import type { Parameters } from '../model/suite.ts';
import { type CopyCheck, checkCopies, copyToAndFro, makeCopyPair } from './memory/copy-pair.ts';
import { numberIn } from './program/parameters.ts';
import { runProgram, type WorkloadReport } from './program/run-program.ts';
import { startCrew } from './threads/crew.ts';
import { type Phases, serveCrew } from './threads/serve-crew.ts';

interface Setup {
  /** Of each of the two buffers, all threads together. */
  readonly words: number;
  readonly passes: number;
  readonly threads: number;
}

const wordBytes = 4;

// Started both as the program and as each of its threads.
if (isMainThread) await runProgram('memory-copy', measure);
else serveCrew(prepare);

async function measure(parameters: Parameters): Promise<WorkloadReport> {
  const setup: Setup = {
    words: Math.floor(numberIn(parameters, 'size') / wordBytes),
    passes: numberIn(parameters, 'passes'),
    threads: numberIn(parameters, 'threads'),
  };
  const crew = await startCrew(fileURLToPath(import.meta.url), setup.threads, setup);
  const { seconds } = await crew.phase('copy');
  const { answers: checks } = await crew.phase<CopyCheck>('check');
  await crew.dismiss();
  let sum = 0;
  for (const check of checks) {
    if ('fault' in check) throw new Error(`wrong result: ${check.fault}`);
    sum = (sum + check.sum) | 0;
  }
  const copiedBytes = setup.words * wordBytes * setup.passes;
  return {
    seconds,
    bytesPerSecond: copiedBytes / seconds,
    copiedBytes,
    check: (sum >>> 0).toString(16).padStart(8, '0'),
  };
}

function prepare({ words, passes, threads }: Setup, index: number): Phases {
  const from = Math.floor((words * index) / threads);
  const to = Math.floor((words * (index + 1)) / threads);
  const pair = makeCopyPair(from, to - from);
  copyToAndFro(makeCopyPair(0, 1024), 2);
  return {
    copy: () => copyToAndFro(pair, passes),
    check: () => checkCopies(pair, passes),
  };
}
