import { expect, it } from 'vitest';
import { parseAffinity } from '../../../src/suite/affinity.ts';

it.each([
  [2, [2]],
  [
    [3, 1],
    [1, 3],
  ],
  ['0-3,6', [0, 1, 2, 3, 6]],
  ['6, 0-1', [0, 1, 6]],
  ['5-5', [5]],
])('reads the CPUs %j', (written, cpus) => {
  expect(parseAffinity(written)).toEqual({ ok: true, value: cpus });
});

it.each([
  ['3-1', '`3-1` runs backwards; write `1-3`'],
  ['0-2,1', 'CPU 1 is named twice; name it once'],
  [[4, 4], 'CPU 4 is named twice; name it once'],
  ['0-9999', 'CPU 9999 is beyond 8191, the most that the kernel can have'],
])('refuses the CPUs %j', (written, error) => {
  expect(parseAffinity(written)).toEqual({ ok: false, error });
});
