import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  type EntryOutcome,
  enterFigures,
  type FigureSource,
} from '../../../src/api/enter-figures.ts';
import { lockSitting } from '../../../src/api/sitting-lock.ts';
import { firstSum } from '../../../src/journal/format.ts';
import { openJournal } from '../../../src/journal/writer.ts';
import type { Result } from '../../../src/lib/result.ts';
import type { Problem } from '../../../src/model/problem.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import type { Suite } from '../../../src/model/suite.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { createSittingFolder } from '../../../src/results/create-folder.ts';
import { readSitting } from '../../../src/results/read-sitting.ts';
import { verifySeal } from '../../../src/results/verify.ts';
import { StopControl } from '../../../src/runner/stop-control.ts';
import { summarizeSitting } from '../../../src/stats/summarize-sitting.ts';
import {
  sampleHandRun,
  sampleHandWorkload,
  sampleInventory,
  sampleRun,
  sampleSitting,
  sampleSuite,
  sampleWorkload,
} from '../../setup/samples.ts';
import { scriptedOperator } from '../../setup/scripted-operator.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const clock = {
  now: () => new Date('2026-02-01T08:00:00.000Z'),
  monotonicSeconds: () => 0,
  sleep: async () => undefined,
};

/** A waiting sitting on the disk. */
async function store(suite: Suite, runs: readonly RunRecord[]): Promise<string> {
  const folder = join(temporaryFolder(), 'sitting');
  const sitting = sampleSitting({
    suite: { ...sampleSitting().suite, resolved: suite },
    plan: makePlan(suite),
    state: 'waiting',
  });
  const paths = await createSittingFolder(folder, sitting, sampleInventory);
  const journal = await openJournal(paths.journal, 0, firstSum);
  for (const run of runs) await journal.append(run);
  await journal.close();
  return folder;
}

function enter(
  folder: string,
  source: FigureSource,
): Promise<Result<EntryOutcome, readonly Problem[]>> {
  return enterFigures(folder, source, { clock, root: '/no-such-root' });
}

function enterText(folder: string, rows: string): ReturnType<typeof enter> {
  const path = join(folder, '../figures.csv');
  writeFileSync(path, `workload,round,metric,value,reason\n${rows}\n`);
  return enter(folder, { kind: 'file', path });
}

const hand = sampleSuite({ workloads: [sampleHandWorkload()] });

describe('enterFigures', () => {
  it('records what is known about a figure from a file, and seals without making the sitting longer', async () => {
    const folder = await store(hand, []);
    const outcome = unwrap(await enterText(folder, 'reel,1,score,4120,\nreel,2,score,4130,'));
    expect(outcome.runs).toEqual([
      sampleHandRun(0, 4120, {
        startedAt: '2026-02-01T08:00:00.000Z',
        sinceStartSeconds: 42_300,
        entry: { by: 'file', confirmed: false },
      }),
      expect.objectContaining({ plan: 1, round: 2 }),
    ]);
    expect(outcome.sitting).toMatchObject({
      state: 'complete',
      endedAt: '2026-01-31T20:16:00.000Z',
    });
    expect(await verifySeal(folder)).toMatchObject({ sealed: true, findings: [] });
  });

  it('takes the figures of a run that was lost as its next attempt', async () => {
    const lost = sampleHandRun(0, 0, {
      ...{ outcome: 'failed', failure: { code: 'lost', message: 'power cut' } },
      ...{ metrics: [], entry: null },
    });
    const folder = await store(hand, [lost]);
    const { sitting, runs } = unwrap(
      await enterText(folder, 'reel,1,score,4120,\nreel,2,score,4130,'),
    );
    expect(sitting.state).toBe('complete');
    expect(runs.map(({ plan, attempt }) => [plan, attempt])).toEqual([
      [0, 1],
      [0, 2],
      [1, 1],
    ]);
    expect(summarizeSitting(hand, runs).rows[0]?.values).toEqual([4120, 4130]);
  });

  it('makes the summary use corrected figures, while the run stays in the journal', async () => {
    const folder = await store(hand, [sampleHandRun(0, 4120)]);
    unwrap(await enterText(folder, 'reel,1,score,4210,swapped\nreel,2,score,4130,'));
    const { sitting, runs, corrections } = unwrap(await readSitting(folder));
    expect(runs[0]?.metrics[0]?.value).toBe(4120);
    const { rows } = summarizeSitting(sitting.suite.resolved, runs, corrections);
    expect(rows[0]?.values).toEqual([4210, 4130]);
  });

  it('cuts off the torn line of a crash before it writes', async () => {
    const folder = await store(hand, [sampleHandRun(0, 4120)]);
    appendFileSync(join(folder, 'data/runs.jsonl'), '{"schema":"steadyrig/run/1","pl');
    expect(unwrap(await enterText(folder, 'reel,2,score,4130,')).sitting.state).toBe('complete');
    expect(unwrap(await readSitting(folder))).toMatchObject({ tornBytes: 0, runs: { length: 2 } });
  });

  it('names figures that are unusual beside the others, and enters them', async () => {
    const suite = { ...hand, repeats: { kind: 'fixed', count: 4 } } as const;
    const folder = await store(suite, [sampleHandRun(0, 4110), sampleHandRun(1, 4120)]);
    const outcome = unwrap(await enterText(folder, 'reel,3,score,4130,\nreel,4,score,4240,'));
    expect(outcome.unusual).toEqual([
      'reel, round 4: score 4240 points: this is 12 standard deviations away from the earlier ones',
    ]);
    expect(outcome.sitting.state).toBe('complete');
  });

  it('leaves a sitting as it is while runs are still to be measured', async () => {
    const suite = sampleSuite({
      warmUps: 0,
      repeats: { kind: 'fixed', count: 1 },
      workloads: [sampleHandWorkload(), sampleWorkload()],
    });
    const folder = await store(suite, []);
    const outcome = unwrap(await enterText(folder, 'reel,1,score,4120,'));
    expect(outcome).toMatchObject({ addedRuns: 1, missing: { measured: 1, byHand: [] } });
    expect(existsSync(join(folder, 'bagit.txt'))).toBe(false);
  });

  it('wants no more adaptive repeats than are needed', async () => {
    const suite: Suite = {
      ...hand,
      repeats: { kind: 'adaptive', atLeast: 3, atMost: 9, untilHalfWidthBelow: 0.01 },
    };
    const folder = await store(suite, [sampleHandRun(0, 4120)]);
    const operator = scriptedOperator(['4121', '4122', '1']);
    const outcome = unwrap(
      await enter(folder, { kind: 'operator', operator, stop: new StopControl() }),
    );
    expect(operator.asked).toHaveLength(2);
    expect(outcome).toMatchObject({ addedRuns: 2, sitting: { state: 'complete' } });
  });

  it('stays waiting when a stop is asked for, with what was entered before', async () => {
    const folder = await store(hand, []);
    const stop = new StopControl();
    const operator = scriptedOperator(['4120', () => stop.request('SIGINT')]);
    const outcome = unwrap(await enter(folder, { kind: 'operator', operator, stop }));
    expect(outcome).toMatchObject({
      ...{ addedRuns: 1, sitting: { state: 'waiting' } },
      missing: { byHand: [{ round: 2 }] },
    });
  });

  it('never touches a measured run or a sealed sitting', async () => {
    const both = sampleSuite({ workloads: [sampleWorkload()] });
    const folder = await store(both, [sampleRun()]);
    expect(await enterText(folder, 'pack,1,wall,1,faster')).toMatchObject({
      error: [{ code: 'figures-invalid', line: 2, column: 1 }],
    });
    const sealed = await store(hand, [sampleHandRun(0, 4120), sampleHandRun(1, 4130)]);
    unwrap(await enterText(sealed, 'reel,1,score,4120,'));
    const before = readFileSync(join(sealed, 'data/runs.jsonl'));
    expect(await enterText(sealed, 'reel,1,score,1,why')).toMatchObject({
      error: [{ code: 'folder-invalid' }],
    });
    expect(readFileSync(join(sealed, 'data/runs.jsonl'))).toEqual(before);
  });

  it('is refused while a sitting is under way on this machine', async () => {
    const folder = await store(hand, []);
    const lock = unwrap(await lockSitting('the test'));
    try {
      expect(await enterText(folder, 'reel,1,score,4120,')).toMatchObject({
        error: [{ code: 'rig-busy', message: expect.stringContaining('the test') }],
      });
    } finally {
      await lock.release();
    }
  });
});
