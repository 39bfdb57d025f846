import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { quickFiles } from '../../../../src/rig/sensors/quick-files.ts';
import { memoryFiles } from '../memory-files.ts';

describe('quickFiles', () => {
  it('reads at once only what no device stands behind', async () => {
    const device = '/sys/devices/platform/coretemp.0/hwmon/hwmon2/temp1_input';
    const files = quickFiles(
      memoryFiles({ [device]: '41000\n', '/proc/version': 'left to the others' }),
    );
    expect(await files.readText(device)).toBe('41000\n');
    expect(await files.readText('/proc/version')).toBe('left to the others');
  });

  it.runIf(process.platform === 'linux')('reads these of the machine itself', async () => {
    const total = (text: string) => /^MemTotal: .*$/m.exec(text)?.[0];
    const text = await quickFiles(memoryFiles({})).readText('/proc/meminfo');
    expect(total(text)).toBe(total(readFileSync('/proc/meminfo', 'utf8')));
  });

  it('rejects as the others do where there is no such file', async () => {
    const path = '/sys/devices/system/cpu/cpufreq/policy99999/scaling_cur_freq';
    await expect(quickFiles(memoryFiles({})).readText(path)).rejects.toMatchObject({
      code: 'ENOENT',
    });
  });
});
