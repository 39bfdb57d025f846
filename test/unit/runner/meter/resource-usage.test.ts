import { describe, expect, it } from 'vitest';
import { parseUsage, parseWaitStatus } from '../../../../src/runner/meter/resource-usage.ts';

describe('parseUsage', () => {
  // struct rusage of getrusage(2): two times of two longs each, then 14 longs.
  const usage = Buffer.alloc(144);
  const longs = [1, 500_000, 2, 250_000, 3000, 0, 0, 0, 11, 12, 0, 0, 0, 0, 0, 0, 13, 14];
  for (const [index, value] of longs.entries()) usage.writeBigInt64LE(BigInt(value), index * 8);

  it('takes each figure from its place', () => {
    expect(parseUsage(usage, 4, 1000)).toEqual({
      wallSeconds: 4,
      userSeconds: 1.5,
      systemSeconds: 2.25,
      peakMemory: { kind: 'exact', bytes: 3000 * 1024 },
      minorFaults: 11,
      majorFaults: 12,
      voluntarySwitches: 13,
      involuntarySwitches: 14,
    });
  });

  it('trusts a peak only above the floor', () => {
    const { peakMemory } = parseUsage(usage, 4, 3000 * 1024);
    expect(peakMemory).toEqual({ kind: 'below', bytes: 3000 * 1024 });
  });
});

describe('parseWaitStatus', () => {
  // wait(2): the code in the second byte, else the signal in the low seven bits and 0x80 for a core file.
  it.each([
    [0x0000, { kind: 'code', code: 0 }],
    [0xff00, { kind: 'code', code: 255 }],
    [0x0009, { kind: 'signal', signal: 'SIGKILL' }],
    [0x008b, { kind: 'signal', signal: 'SIGSEGV' }],
    [0x0006, { kind: 'signal', signal: 'SIGABRT' }],
    [0x0028, { kind: 'signal', signal: 'signal 40' }],
  ])('reads %i', (status, exit) => {
    expect(parseWaitStatus(status)).toEqual(exit);
  });
});
