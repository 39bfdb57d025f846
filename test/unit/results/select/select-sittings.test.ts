import { mkdirSync, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { selectSittings } from '../../../../src/results/select/select-sittings.ts';
import { sittingOn, storeSitting } from '../../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { unwrap } from '../../../setup/unwrap.ts';

let results = '';
const other = 'c'.repeat(64);

beforeAll(async () => {
  results = mkdtempSync(join(tmpdir(), 'steadyrig-test-'));
  const all = [
    ...[1, 2, 3].map((day) => sittingOn(day, 'bench-a')),
    sittingOn(4, 'bench-a', { digest: other }),
    sittingOn(5, 'bench-a', { state: 'interrupted', endedAt: null }),
    sittingOn(6, 'bench-b'),
    sittingOn(7, 'bench-b', { state: 'cut-short' }),
    sittingOn(8, 'bench-c', { digest: other }),
    sittingOn(9, 'old-bench-b'),
    sittingOn(10, 'bench-b', { levels: { memory: '4x8 GiB' } }),
  ];
  for (const sitting of all) await storeSitting(results, sitting);
});

afterAll(() => rmSync(results, { recursive: true, force: true }));

async function select(selectors: readonly string[], suite: string | null = null) {
  return selectSittings(selectors, { results, suite });
}
/** Days of the sittings of each side. */
async function days(selectors: readonly string[], suite: string | null = null) {
  const { sides } = unwrap(await select(selectors, suite));
  return sides.map(({ sittings }) => sittings.map(({ id }) => Number(id.slice(6, 8))));
}
async function refusal(selectors: readonly string[], suite: string | null = null) {
  const selected = await select(selectors, suite);
  return selected.ok ? '' : selected.error.message;
}

describe('selecting sittings', () => {
  it('takes all ended sittings of a rig label, of the suite that both sides have', async () => {
    expect(await days(['bench-a', 'bench-b'])).toEqual([
      [1, 2, 3],
      [6, 7, 10],
    ]);
    const { notes, sides } = unwrap(await select(['bench-a', 'bench-b']));
    expect(sides.map(({ label }) => label)).toEqual(['bench-a', 'bench-b']);
    expect(notes).toEqual([
      'left out: 20260105T201500Z-bench-a-harbour-0505 is interrupted; once it is complete it counts',
      'bench-a: 3 of 4 sittings taken, those of harbour (digest aaaaaaaaaaaa); --suite chooses others',
      'the sittings of bench-b do not all have the same levels: memory=2x8 GiB; memory=4x8 GiB',
    ]);
  });

  it('takes no repeat of an odd result for a further sitting, unless it is named', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'steadyrig-test-'));
    const first = sittingOn(1, 'bench-a');
    const again = sittingOn(2, 'bench-a', { again: { of: first.id, workload: 'pack' } });
    for (const sitting of [first, again]) await storeSitting(folder, sitting);
    const choose = async (selector: string) =>
      unwrap(await selectSittings([selector], { results: folder, suite: null }));
    const chosen = await choose('bench-a');
    expect(chosen.sides[0]?.sittings.map(({ id }) => id)).toEqual([first.id]);
    expect(chosen.notes).toEqual([
      `left out: ${again.id} repeats one workload that was odd; it tells whether that came back, and is no further sitting of its rig`,
    ]);
    expect((await choose(join(folder, again.id))).sides[0]?.sittings[0]?.id).toBe(again.id);
    rmSync(folder, { recursive: true });
  });

  it('takes the newest suite where the sides do not decide', async () => {
    expect(await days(['bench-a', 'bench-c'])).toEqual([[4], [8]]);
    expect(await days(['bench-a', 'bench-b', 'bench-c'])).toEqual([[1, 2, 3], [6, 7, 10], [8]]);
  });

  it('takes the suite asked for, by name or by its digest', async () => {
    expect(await days(['bench-a', 'bench-c'], 'cccc')).toEqual([[4], [8]]);
    expect(await days(['bench-a', 'bench-b'], 'harbour')).toEqual([
      [1, 2, 3],
      [6, 7, 10],
    ]);
    expect(await refusal(['bench-a', 'bench-c'], 'aaaa')).toBe(
      'bench-c has no sitting of the suite aaaa; it has harbour (digest cccccccccccc)',
    );
  });

  it('takes the latest of a rig, of the suite chosen', async () => {
    expect(await days(['bench-a:latest-2', 'bench-b:latest'])).toEqual([[2, 3], [10]]);
    const { notes } = unwrap(await select(['bench-b:latest-9', 'old-bench-b']));
    expect(notes).toContain('bench-b:latest-9: there are only 3');
  });

  it('takes patterns, ids, ends of ids, folders and joined ones, each once', async () => {
    expect(await days(['*0?T201500Z-bench-a-*', '0a0a'])).toEqual([[1, 2, 3], [10]]);
    expect(await days(['0202,0101,0202', '*T201500Z-bench-b-*'])).toEqual([
      [1, 2],
      [6, 7, 10],
    ]);
    const folder = join(results, '20260104T201500Z-bench-a-harbour-0404');
    expect(await days([folder, 'latest'])).toEqual([[4], [10]]);
    expect(await days([`${results}/*-bench-c-*`, '0101'])).toEqual([[8], [1]]);
  });

  it('tells sides of one rig apart by their sittings', async () => {
    const { sides } = unwrap(await select(['0101', '0202', '0606']));
    expect(sides.map(({ label }) => label)).toEqual(['bench-a 0101', 'bench-a 0202', 'bench-b']);
  });

  it.each([
    [['bench-a', 'bench-x'], 'no rig and no sitting bench-x in'],
    [['bench-a', 'old-bench'], 'did you mean old-bench-b?'],
    [['bench-a', '0303'], 'a sitting can be on one side only'],
    [['*bench*', 'bench-c'], 'a side is one rig'],
    [['0505', 'bench-b'], '0505: no sitting of it is complete'],
    [['*nothing*', 'bench-b'], 'fits *nothing*'],
    [['bench-a', 'bench-zz:latest'], 'no rig and no sitting bench-zz'],
    [['bench-a', 'T20'], 'no rig and no sitting T20'],
    [['./nowhere', 'bench-b'], 'not a result folder'],
  ])('refuses %j', async (selectors, message) => {
    expect(await refusal(selectors)).toContain(message);
  });

  it('refuses a copy of a sitting on the other side', async () => {
    const elsewhere = temporaryFolder();
    mkdirSync(join(elsewhere, 'copies'));
    await storeSitting(elsewhere, sittingOn(1, 'bench-a'));
    const name = '20260101T201500Z-bench-a-harbour-0101';
    renameSync(join(elsewhere, name), join(elsewhere, 'copies', 'copy'));
    expect(await refusal(['0101', join(elsewhere, 'copies', 'copy')])).toContain(
      'on one side only',
    );
  });

  it('says that an empty folder has none', async () => {
    const empty = temporaryFolder();
    const selected = await selectSittings(['a', 'b'], { results: empty, suite: null });
    expect(!selected.ok && selected.error.message).toContain('give another --results folder');
  });
});
