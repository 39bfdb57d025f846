import { describe, expect, it } from 'vitest';
import { renderSensorsPage } from '../../../src/report/sensors-page.ts';
import { rigFiles } from '../../../src/rig/rig-files.ts';
import { discoverSensors } from '../../../src/rig/sensors/discover-sensors.ts';
import { readSensors } from '../../../src/rig/sensors/read-sensors.ts';
import { expectGolden } from '../../setup/golden.ts';
import { failingFiles, memoryFiles, systemError } from '../rig/memory-files.ts';
import { rigNames, rigRoot } from '../rig/rigs.ts';

const at = new Date('2024-11-05T10:00:00Z');

async function pageOf(files: ReturnType<typeof rigFiles>, now = files): Promise<string> {
  const set = await discoverSensors(files, { now: () => at });
  return renderSensorsPage(
    set.table,
    await readSensors(set, now, { atSeconds: 0, at, edge: true }),
  );
}

describe('the page of sensors', () => {
  it.each(rigNames)('of %s is as approved', async (name) => {
    expectGolden(`sensors-${name}.txt`, await pageOf(rigFiles(rigRoot(name))));
  });

  it('fits 80 columns and says why when all fails', async () => {
    const files = rigFiles(rigRoot('desktop-k10temp'));
    const pages = [
      await pageOf(files, failingFiles(files, /./, systemError('EAGAIN'))),
      await pageOf(failingFiles(files, /./, systemError('EACCES'))),
      await pageOf(memoryFiles({})),
    ];
    for (const line of pages.join('\n').split('\n'))
      expect([...line].length).toBeLessThanOrEqual(80);
    expect(pages[0]).toContain('not known at the moment');
    expect(pages[1]).toContain('not permitted');
    expect(pages[2]).toContain('no sensor tells its temperature');
  });
});
