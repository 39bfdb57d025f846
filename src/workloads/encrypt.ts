import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';
import type { Parameters } from '../model/suite.ts';
import { type CipherName, encryptSegment, segmentBytes } from './cipher/encrypt-segment.ts';
import { makeCorpus } from './corpus/corpus.ts';
import { keepFreedMemory } from './program/keep-freed-memory.ts';
import { numberIn, wordIn } from './program/parameters.ts';
import { runProgram, type WorkloadReport } from './program/run-program.ts';
import { startCrew } from './threads/crew.ts';
import { type Phases, serveCrew } from './threads/serve-crew.ts';

interface Setup {
  readonly buffer: Uint8Array;
  readonly cipher: CipherName;
  readonly passes: number;
}

type Tag = readonly [segment: number, tag: Uint8Array];

// Started both as the program and as each of its threads.
if (isMainThread) await runProgram('encrypt', measure);
else serveCrew(prepare);

async function measure(parameters: Parameters): Promise<WorkloadReport> {
  keepFreedMemory();
  const buffer = makeCorpus('mixed', numberIn(parameters, 'size'), numberIn(parameters, 'seed'));
  const passes = numberIn(parameters, 'passes');
  const setup: Setup = { buffer, cipher: wordIn(parameters, 'cipher') as CipherName, passes };
  const crew = await startCrew(
    fileURLToPath(import.meta.url),
    numberIn(parameters, 'threads'),
    setup,
  );
  const { seconds, answers } = await crew.phase<readonly Tag[]>('encrypt');
  await crew.dismiss();
  const result = createHash('sha256').update(buffer);
  for (const [, tag] of answers.flat().sort((a, b) => a[0] - b[0])) result.update(tag);
  return {
    seconds,
    bytesPerSecond: (buffer.length * passes) / seconds,
    check: result.digest('hex'),
  };
}

function prepare({ buffer, cipher, passes }: Setup): Phases {
  const segmentCount = Math.ceil(buffer.length / segmentBytes);
  encryptSegment(new Uint8Array(segmentBytes), cipher, 0, 64);
  return {
    encrypt: (next) => {
      const tags: Tag[] = [];
      for (let task = next(); task < segmentCount; task = next()) {
        const segment = buffer.subarray(task * segmentBytes, (task + 1) * segmentBytes);
        tags.push([task, encryptSegment(segment, cipher, task, passes)]);
      }
      return tags;
    },
  };
}
