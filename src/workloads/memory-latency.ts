import { createHash } from 'node:crypto';
import type { Parameters } from '../model/suite.ts';
import { lineBytes, makePointerCycle, walk } from './memory/pointer-cycle.ts';
import { numberIn } from './program/parameters.ts';
import { runProgram, type WorkloadReport } from './program/run-program.ts';

// A lap is walked in this many stretches, whose ends go into the check value.
const stretches = 16;

await runProgram('memory-latency', (parameters) => Promise.resolve(measure(parameters)));

function measure(parameters: Parameters): WorkloadReport {
  const lines = Math.floor(numberIn(parameters, 'size') / lineBytes);
  const laps = numberIn(parameters, 'laps');
  const chain = makePointerCycle(lines, numberIn(parameters, 'seed'));
  // Compiles the walk on a small cycle, which leaves the cache without lines of the large one.
  walk(makePointerCycle(1024, 0), 0, 500_000);
  const ends: number[] = [];
  let at = 0;
  const startedNs = process.hrtime.bigint();
  for (let lap = 0; lap < laps; lap += 1) at = walkLap(chain, at, lines, lap === 0 ? ends : null);
  const seconds = Number(process.hrtime.bigint() - startedNs) / 1e9;
  if (at !== 0) throw new Error(`wrong result: ${laps} laps ended at ${at}, expected the start, 0`);
  return {
    seconds,
    secondsPerLoad: seconds / (laps * lines),
    loads: laps * lines,
    check: createHash('sha256').update(ends.join(' ')).digest('hex'),
  };
}

/** Walks one lap; returns where it ends, and notes the ends of its stretches where asked. */
function walkLap(chain: Int32Array, start: number, lines: number, ends: number[] | null): number {
  let at = start;
  for (let stretch = 0; stretch < stretches; stretch += 1) {
    const from = Math.floor((lines * stretch) / stretches);
    at = walk(chain, at, Math.floor((lines * (stretch + 1)) / stretches) - from);
    ends?.push(at);
  }
  return at;
}
