import { appendFileSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { type SittingWatch, watchSitting } from '../../../src/api/watch-sitting.ts';
import { firstSum } from '../../../src/journal/format.ts';
import { openJournal } from '../../../src/journal/writer.ts';
import type { PlannedRun } from '../../../src/model/plan.ts';
import type { Sitting } from '../../../src/model/sitting.ts';
import type { WatchSnapshot } from '../../../src/model/watch.ts';
import { openUnderWay, type UnderWayState } from '../../../src/results/under-way.ts';
import { findUnderWay } from '../../../src/results/watch/find-under-way.ts';
import { type DrivenClock, drivenClock } from '../../setup/driven-clock.ts';
import { sampleRun } from '../../setup/samples.ts';
import { sittingOn, storeSitting } from '../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const bootId = '64837e2d-dcc9-4c1c-82fe-db151f30a55b';

/** A mount point whose machine is in this boot. */
function rootOf(boot: string): string {
  const root = temporaryFolder();
  mkdirSync(join(root, 'proc/sys/kernel/random'), { recursive: true });
  writeFileSync(join(root, 'proc/sys/kernel/random/boot_id'), `${boot}\n`);
  return root;
}

const openSitting = (changes: Partial<Sitting> = {}): Sitting =>
  sittingOn(5, 'bench-a', { state: 'open', endedAt: null, bootIds: [bootId], ...changes });

const look = async (watch: SittingWatch): Promise<WatchSnapshot> => unwrap(await watch.look());
const running = (plan: number, since: Date, attempt = 1): UnderWayState => ({
  ...{ phase: 'run', secondsLeft: 60 },
  run: { plan, attempt, since: since.toISOString() },
});

async function bench(clock: DrivenClock, { pid = process.pid, boot = bootId } = {}) {
  const results = temporaryFolder();
  const folder = await storeSitting(results, openSitting());
  rmSync(join(folder, 'data/runs.jsonl'), { force: true });
  const marker = openUnderWay(folder, { pid, bootId: boot });
  const watch = await watchSitting(folder, { clock, root: rootOf(bootId) });
  const journal = await openJournal(join(folder, 'data/runs.jsonl'), 0, firstSum);
  onTestFinished(() => journal.close());
  return { results, folder, marker, watch, journal };
}

describe('watching a sitting', () => {
  it('tells what runs, how far it is, what comes next, and where figures lie', async () => {
    const clock = drivenClock();
    const { marker, watch, journal } = await bench(clock);
    await marker.write(running(0, clock.now()), clock.now());
    expect(await look(watch)).toMatchObject({
      ...{ planned: 3, done: 0, last: [], secondsLeft: 60, heart: { kind: 'beating' } },
      now: { phase: 'run', run: { workload: 'pack', phase: 'warm-up' }, seconds: 0 },
    });
    await journal.append(sampleRun({ plan: 0, phase: 'warm-up' }));
    await journal.append(sampleRun({ plan: 1 }));
    await clock.pass(7);
    await marker.write(running(2, clock.now()), clock.now());
    await clock.pass(3);
    const metrics = [{ id: 'wall', value: 3, unit: 's', better: 'lower' }] as const;
    const snapshot = await look(watch);
    expect(snapshot).toMatchObject({ done: 2, recorded: 2, secondsLeft: 57, now: { seconds: 3 } });
    expect(snapshot.last.map(({ beside }) => beside)).toEqual([null, null]);
    expect(snapshot.next).toEqual([]);
    await journal.append(sampleRun({ plan: 2, round: 2, metrics }));
    expect((await look(watch)).last.at(-1)).toMatchObject({
      beside: { earlier: 1, median: 2.5, low: 2.5, high: 2.5 },
    });
  });

  it('counts failures by what stands, and attempts beside them', async () => {
    const clock = drivenClock();
    const { watch, journal } = await bench(clock);
    const failure = { code: 'time-limit', message: 'too long' } as const;
    const failed = { outcome: 'failed', failure, metrics: [] } as const;
    const disturbances = [
      { code: 'swap', message: 'pages went to swap' },
      { code: 'swap', message: 'more of them' },
    ] as const;
    await journal.append(sampleRun({ plan: 0, phase: 'warm-up', disturbances }));
    await journal.append(sampleRun({ plan: 1, ...failed }));
    await journal.append(sampleRun({ plan: 1, attempt: 2 }));
    await journal.append(sampleRun({ plan: 2, round: 2, ...failed }));
    const { oddities } = await look(watch);
    expect(oddities).toMatchObject({ failedRuns: 1, retried: 1, disturbed: { swap: 1 } });
    expect(oddities.failures.map(({ plan }: { plan: PlannedRun['index'] }) => plan)).toEqual([
      1, 2,
    ]);
  });

  it('goes by the clock of who measures where the clocks differ', async () => {
    const clock = drivenClock();
    const { marker, watch } = await bench(clock, { boot: bootId.replace('6', '7') });
    const theirs = (): Date => new Date(clock.now().getTime() - 3_600_000);
    const since = theirs();
    await marker.write(running(0, since), theirs());
    for (let beat = 0; beat < 5; beat += 1) {
      await clock.pass(5);
      marker.beat(theirs());
      const { heart, now } = await look(watch);
      expect(heart.kind).toBe('doubtful');
      expect(now?.seconds).toBe((beat + 1) * 5);
    }
    await clock.pass(16);
    expect((await look(watch)).heart.kind).toBe('stale');
  });

  it('sees that the process is gone, and that it is not', async () => {
    const clock = drivenClock();
    const gone = await bench(clock, { pid: 2 ** 22 + 1 });
    await gone.marker.write(running(0, clock.now()), clock.now());
    expect((await look(gone.watch)).heart).toMatchObject({
      kind: 'doubtful',
      why: { isPidGone: true },
    });
    await clock.pass(6);
    expect((await look(gone.watch)).heart.kind).toBe('stale');
    const there = await bench(clock);
    await there.marker.write(running(0, clock.now()), clock.now());
    expect((await look(there.watch)).heart.kind).toBe('beating');
  });

  it('ends with the sitting: once it is sealed, or rests unsealed', async () => {
    const clock = drivenClock();
    const { folder, watch } = await bench(clock);
    const become = (state: Sitting['state']): void =>
      writeFileSync(join(folder, 'data/sitting.json'), JSON.stringify(openSitting({ state })));
    for (const [state, kind] of [
      ['open', 'doubtful'],
      ['complete', 'doubtful'],
      ['waiting', 'ended'],
      ['interrupted', 'ended'],
    ] as const) {
      become(state);
      expect((await look(watch)).heart.kind, state).toBe(kind);
    }
    become('complete');
    appendFileSync(join(folder, 'bagit.txt'), 'BagIt-Version: 1.0\n');
    expect(await look(watch)).toMatchObject({ heart: { kind: 'ended' }, sealed: true });
  });

  it('says that a folder is gone', async () => {
    const { folder, watch } = await bench(drivenClock());
    await look(watch);
    rmSync(folder, { recursive: true });
    expect(await watch.look()).toMatchObject({ ok: false, error: { code: 'folder-invalid' } });
  });
});

describe('the sitting under way', () => {
  it('is the one heard of last, whichever began last', async () => {
    const clock = drivenClock();
    const { results, folder, marker } = await bench(clock);
    const later = await storeSitting(results, sittingOn(9, 'bench-a', { state: 'open' }));
    expect(await findUnderWay(results)).toMatchObject({ ok: false });
    const stale = openUnderWay(later, { pid: 1, bootId: null });
    await stale.write(running(0, clock.now()), clock.now());
    expect(unwrap(await findUnderWay(results))).toBe(later);
    await clock.pass(60);
    await marker.write(running(0, clock.now()), clock.now());
    expect(unwrap(await findUnderWay(results))).toBe(folder);
  });
});
