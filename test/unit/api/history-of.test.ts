import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { historyOf } from '../../../src/api/history-of.ts';
import { writeHistoryChart } from '../../../src/api/write-history-chart.ts';
import { historyOfInvented } from '../../setup/sample-history.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const results = 'results/harbour-lane';

describe('historyOf', () => {
  it('reads the sittings of a rig in order of time, and says what is missing for limits', async () => {
    const history = unwrap(await historyOf('first-8', { results, workloads: ['pack'] }));
    expect(history).toMatchObject({ rig: 'first-8', suite: { id: 'desk' }, invented: true });
    const times = history.sittings.map(({ startedAt }) => startedAt);
    expect(times).toHaveLength(6);
    expect(times).toEqual(times.toSorted());
    expect(history.series.map(({ workload }) => workload)).toEqual(['pack', 'pack']);
    expect(history.series.every(({ withoutLimits }) => withoutLimits !== null)).toBe(true);
    // The campaign builds the baseline three times, two sittings each.
    expect(history.marks.map(({ place, changes }) => [place, changes[0]?.path])).toEqual([
      [2, 'assembly'],
      [4, 'assembly'],
    ]);
  });

  it('refuses what is not there, and more than one rig, with what to do', async () => {
    expect(await historyOf('first-8', { results, workloads: ['pak'] })).toMatchObject({
      error: [{ code: 'option-invalid', message: expect.stringContaining('did you mean pack?') }],
    });
    expect(await historyOf('nobody', { results })).toMatchObject({ ok: false });
    // One sitting of each of two rigs, named by the ends of their ids.
    expect(await historyOf('e5c7,7902', { results })).toMatchObject({
      error: [{ code: 'option-invalid', message: expect.stringContaining('2 rigs') }],
    });
  });
});

describe('writeHistoryChart', () => {
  it('writes a picture, and never over a file that is there', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'bench.svg');
    unwrap(await writeHistoryChart(historyOfInvented(), file));
    expect(readFileSync(file, 'utf8')).toMatch(/^<svg /);
    writeFileSync(file, 'mine');
    expect(await writeHistoryChart(historyOfInvented(), file)).toMatchObject({
      error: { code: 'option-invalid' },
    });
    expect(readFileSync(file, 'utf8')).toBe('mine');
    expect(
      await writeHistoryChart(historyOfInvented(), join(folder, 'no/bench.svg')),
    ).toMatchObject({ error: { code: 'write-failed' } });
  });
});
