import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';
import type { Parameters } from '../model/suite.ts';
import { makeCorpus } from './corpus/corpus.ts';
import { numberIn, wordIn } from './program/parameters.ts';
import { runProgram, type WorkloadReport } from './program/run-program.ts';
import { startCrew } from './threads/crew.ts';
import { type Phases, serveCrew } from './threads/serve-crew.ts';

interface Setup {
  readonly buffer: Uint8Array;
  readonly algorithm: string;
  readonly passes: number;
}

// Started both as the program and as each of its threads.
if (isMainThread) await runProgram('hash', measure);
else serveCrew(prepare);

async function measure(parameters: Parameters): Promise<WorkloadReport> {
  const buffer = makeCorpus('mixed', numberIn(parameters, 'size'), numberIn(parameters, 'seed'));
  const passes = numberIn(parameters, 'passes');
  const setup: Setup = { buffer, algorithm: wordIn(parameters, 'algorithm'), passes };
  const crew = await startCrew(
    fileURLToPath(import.meta.url),
    numberIn(parameters, 'threads'),
    setup,
  );
  const { seconds, answers } = await crew.phase<readonly string[]>('hash');
  await crew.dismiss();
  const [check, ...others] = new Set(answers.flat());
  if (check === undefined || others.length > 0)
    throw new Error('wrong result: the same buffer hashed to different values');
  return { seconds, bytesPerSecond: (buffer.length * passes) / seconds, check };
}

function prepare({ buffer, algorithm, passes }: Setup): Phases {
  const digest = (): string => createHash(algorithm).update(buffer).digest('hex');
  digest();
  return {
    hash: (next) => {
      const digests = new Set<string>();
      while (next() < passes) digests.add(digest());
      return [...digests];
    },
  };
}
