import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';
import type { Parameters } from '../model/suite.ts';
import { numberIn } from './program/parameters.ts';
import { runProgram, type WorkloadReport } from './program/run-program.ts';
import { fingerprint, makeRecords, writeReadSort } from './records/records.ts';
import { startCrew } from './threads/crew.ts';
import { type Phases, serveCrew } from './threads/serve-crew.ts';

interface Setup {
  readonly count: number;
  readonly seed: number;
  readonly passes: number;
}

// Started both as the program and as each of its threads.
if (isMainThread) await runProgram('json-sort', measure);
else serveCrew(prepare);

async function measure(parameters: Parameters): Promise<WorkloadReport> {
  const setup: Setup = {
    count: numberIn(parameters, 'records'),
    seed: numberIn(parameters, 'seed'),
    passes: numberIn(parameters, 'passes'),
  };
  const crew = await startCrew(
    fileURLToPath(import.meta.url),
    numberIn(parameters, 'threads'),
    setup,
  );
  const { seconds, answers } = await crew.phase<readonly number[]>('work');
  const { answers: checks } = await crew.phase<string>('check');
  await crew.dismiss();
  if (new Set(answers.flat()).size !== 1 || new Set(checks).size !== 1)
    throw new Error('wrong result: the same records were sorted into different orders');
  const records = setup.count * setup.passes;
  return { seconds, recordsPerSecond: records / seconds, records, check: checks[0] ?? '' };
}

function prepare({ count, seed, passes }: Setup): Phases {
  const records = makeRecords(count, seed);
  // Compiles the comparison and lets the heap grow to its working size.
  const sorted = writeReadSort(records);
  return {
    work: (next) => {
      const fingerprints = new Set<number>([fingerprint(sorted)]);
      while (next() < passes) fingerprints.add(fingerprint(writeReadSort(records)));
      return [...fingerprints];
    },
    check: () => createHash('sha256').update(JSON.stringify(sorted)).digest('hex'),
  };
}
