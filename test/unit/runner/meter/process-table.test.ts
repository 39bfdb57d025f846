import { describe, expect, it } from 'vitest';
import {
  parseStat,
  readPeakBytes,
  readProcess,
  readProcessTable,
} from '../../../../src/runner/meter/process-table.ts';

// Layout: proc_pid_stat(5). The values are invented.
const line =
  '4711 (name) with (R) 1 2 in it) S 12 34 56 0 -1 4194368 100 0 0 0 7 8 0 0 20 0 1 0 987654 1000 20 18446744073709551615 0\n';

describe('the process table', () => {
  it('reads a stat line whatever the name of the process', () => {
    expect(parseStat(line)).toEqual({
      pid: 4711,
      state: 'S',
      parent: 12,
      group: 34,
      flags: 4194368,
      startTicks: 987654,
    });
  });

  it.skipIf(process.platform !== 'linux')('holds this process', () => {
    const own = readProcessTable().find(({ pid }) => pid === process.pid);
    expect(own?.parent).toBe(process.ppid);
    expect(readProcess(2 ** 22 + 1)).toBeNull();
    expect(readPeakBytes('self')).toBeGreaterThanOrEqual(process.memoryUsage.rss() * 0.9);
  });
});
