import { constants } from 'node:os';
import type { Accounting, Exit, PeakMemory } from '../../model/meter.ts';

/**
 * Figures of `struct rusage` (getrusage(2), 64-bit little-endian layout).
 * `floorBytes`: resident size of the process that the program was started from. The kernel's peak is never below
 * it, so a figure that is not clearly above says only that the program stayed under that figure.
 */
export function parseUsage(usage: Buffer, wallSeconds: number, floorBytes: number): Accounting {
  const at = (index: number): number => Number(usage.readBigInt64LE(index * 8));
  return {
    wallSeconds,
    userSeconds: at(0) + at(1) / 1e6,
    systemSeconds: at(2) + at(3) / 1e6,
    peakMemory: peakMemory(at(4) * 1024, floorBytes),
    minorFaults: at(8),
    majorFaults: at(9),
    voluntarySwitches: at(16),
    involuntarySwitches: at(17),
  };
}

function peakMemory(bytes: number, floorBytes: number): PeakMemory {
  return { kind: bytes > floorBytes ? 'exact' : 'below', bytes };
}

/** Meaning of a wait status, wait(2). */
export function parseWaitStatus(status: number): Exit {
  const signal = status & 0x7f;
  return signal === 0
    ? { kind: 'code', code: (status >> 8) & 0xff }
    : { kind: 'signal', signal: signalName(signal) };
}

function signalName(number: number): string {
  const known = Object.entries(constants.signals).find(([, value]) => value === number);
  return known?.[0] ?? `signal ${number}`;
}
