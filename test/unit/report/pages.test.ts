import { describe, expect, it } from 'vitest';
import type { RunRecord } from '../../../src/model/run.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { renderEvent } from '../../../src/report/event-line.ts';
import { renderFindings, renderFitness } from '../../../src/report/findings-page.ts';
import { advanceLive, renderLive, secondsLeft, startLive } from '../../../src/report/live-block.ts';
import { renderPlan } from '../../../src/report/plan-page.ts';
import { renderSitting } from '../../../src/report/sitting-page.ts';
import { summarizeSitting } from '../../../src/stats/summarize-sitting.ts';
import { expectGolden } from '../../setup/golden.ts';
import { sampleRun, sampleSitting, sampleSuite, sampleWorkload } from '../../setup/samples.ts';

const suite = sampleSuite({
  repeats: { kind: 'fixed', count: 3 },
  workloads: [
    sampleWorkload({
      metrics: [
        {
          id: 'speed',
          source: { kind: 'derived', work: 1, per: 'wall' },
          unit: 'By/s',
          better: 'higher',
        },
        {
          id: 'wall',
          source: { kind: 'accounting', reading: 'wall', step: null },
          unit: 's',
          better: 'lower',
        },
        {
          id: 'memory',
          source: { kind: 'accounting', reading: 'peak-memory', step: null },
          unit: 'By',
          better: 'lower',
        },
      ],
    }),
    sampleWorkload({
      id: 'paint-a-rather-long-fence',
      title: 'Paint a fence that is a good deal longer than the page is wide',
    }),
    sampleWorkload({ id: 'broken', title: 'A workload that always fails' }),
  ],
});

function runsOf(workload: string, metrics: readonly RunRecord['metrics'][]): RunRecord[] {
  return metrics.map((values, index) =>
    sampleRun({ workload, plan: index, round: index + 1, metrics: values }),
  );
}

const recorded: RunRecord[] = [
  sampleRun({
    phase: 'warm-up',
    workload: 'pack',
    metrics: [{ id: 'wall', value: 99, unit: 's', better: 'lower' }],
  }),
  ...runsOf(
    'pack',
    [2.5, 2.52, 2.47].map((wall) => [
      { id: 'speed', value: 67_108_864 / wall, unit: 'By/s', better: 'higher' as const },
      { id: 'wall', value: wall, unit: 's', better: 'lower' as const },
      {
        id: 'memory',
        value: 984 * 1024,
        unit: 'By',
        better: 'lower' as const,
        bound: 'below' as const,
      },
    ]),
  ),
  ...runsOf('paint-a-rather-long-fence', [
    [{ id: 'wall', value: 0.0123, unit: 's', better: 'lower' }],
  ]),
  ...[1, 2].map((round) =>
    sampleRun({
      workload: 'broken',
      round,
      outcome: 'failed',
      metrics: [],
      failure: {
        code: 'unexpected-exit-code',
        message:
          'exit code 7, expected 0; standard error ended: "the hinge is missing, and without a hinge there is no door to speak of"',
      },
    }),
  ),
];
const runs = recorded.map((run, plan) => ({ ...run, plan }));

const sitting = sampleSitting({
  suite: { ...sampleSitting().suite, resolved: suite },
  conditions: {
    ambientCelsius: 21.5,
    notes: 'after the second assembly, side panel on, fans as the firmware sets them',
  },
});

describe('the page of a sitting', () => {
  const page = renderSitting(
    { sitting, runs, corrections: [], sealed: true, tornBytes: 0 },
    summarizeSitting(suite, runs),
  );

  it('looks as approved', () => expectGolden('sitting.txt', `${page}\n`));

  it('is at most 80 columns wide', () => {
    for (const line of page.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
  });

  it('never counts a warm-up', () => expect(page).not.toContain('99'));
});

describe('summarizeSitting', () => {
  it('gives rates their harmonic, times their arithmetic mean, and no interval from one value', () => {
    const rows = summarizeSitting(suite, runs).rows;
    const [speed, wall, memory, fence] = rows;
    const meanWall = (2.5 + 2.52 + 2.47) / 3;
    expect(wall?.mean).toBeCloseTo(meanWall, 12);
    expect(speed?.mean).toBeCloseTo(67_108_864 / meanWall, 3);
    expect(speed?.meanKind).toBe('harmonic');
    // t(0.975, 2) = 4.303 (NIST TN 1297, table B.1); s = 0.025166.
    expect((wall?.interval?.high ?? 0) - meanWall).toBeCloseTo(
      (4.303 * 0.0251661) / Math.sqrt(3),
      4,
    );
    expect(memory?.flags).toContain('bound');
    expect(fence).toMatchObject({ interval: null, variation: null, flags: ['one-value'] });
    expect(rows.map(({ workload }) => workload)).not.toContain('broken');
  });
});

describe('the page of a plan', () => {
  it('looks as approved', () => {
    const adaptive = sampleSuite({
      ...suite,
      repeats: { kind: 'adaptive', atLeast: 8, atMost: 9, untilHalfWidthBelow: 0.01 },
    });
    expectGolden(
      'plan.txt',
      `${renderPlan(adaptive, makePlan(adaptive), { seconds: 754, basis: 'assumed' })}\n`,
    );
  });
});

describe('the page of a plan whose cooldowns wait for a cool processor', () => {
  const times = { atLeastSeconds: 2, atMostSeconds: 600, withoutSensorSeconds: 60 };
  it.each([
    [{ kind: 'below', celsius: 45 }, 'until the processor is below 45 °C, 2 s to 10 min'],
    [{ kind: 'near-idle', withinKelvin: 2.5 }, 'is within 2.5 K of its idle temperature, 2 s to'],
  ] as const)('says so for %j', (until, text) => {
    const cool = sampleSuite({ cooldown: { kind: 'temperature', until, ...times } });
    const page = renderPlan(cool, makePlan(cool), { seconds: 754, basis: 'assumed' });
    expect(page.replace(/\s+/g, ' ')).toContain(text);
  });
});

describe('the page of a sitting that was interrupted', () => {
  it('says by what', () => {
    const cause = 'temperature-limit' as const;
    const interruptions = [{ at: '2026-01-31T20:16:00.000Z', cause, runs: 1 }];
    const sitting = sampleSitting({ state: 'interrupted', interruptions });
    const facts = { sitting, runs: [], corrections: [], sealed: false, tornBytes: 0 };
    const page = renderSitting(facts, summarizeSitting(suite, []));
    expect(page).toContain('interrupted by temperature-limit, not sealed');
  });
});

describe('the findings of the checks', () => {
  it('come with the refusals first', () => {
    const text = renderFindings([
      {
        check: 'memory',
        severity: 'warn',
        workload: null,
        message: 'little is free',
        remedy: 'free some',
      },
      {
        check: 'programs',
        severity: 'refuse',
        workload: 'pack',
        message: 'no program',
        remedy: 'install it',
      },
    ]);
    expect(text).toBe(
      'refuse (programs): pack: no program; install it\nwarn (memory): little is free; free some',
    );
  });

  it('say in one line whether the rig is fit', () => {
    const finding = (severity: 'refuse' | 'warn' | 'note') =>
      ({ check: 'swap', severity, workload: null, message: 'm', remedy: 'r' }) as const;
    const first = (...severities: Parameters<typeof finding>[0][]) =>
      renderFitness(severities.map(finding)).split('\n')[0];
    expect(first()).toBe('the rig is fit to measure this suite');
    expect(first('note', 'note')).toBe('the rig is fit to measure this suite');
    expect(first('warn', 'note')).toBe('the rig is fit to measure this suite, with 1 warning');
    expect(first('warn', 'refuse', 'warn')).toBe(
      'the rig is not fit to measure this suite: 1 refusal and 2 warnings',
    );
    expect(first('refuse', 'refuse')).toBe('the rig is not fit to measure this suite: 2 refusals');
  });

  it('are told when a sitting begins, where there are any', () => {
    expect(renderEvent({ type: 'rig-checked', findings: [] }, 0)).toBeNull();
    const findings = [
      { check: 'swap', severity: 'note', workload: null, message: 'm', remedy: 'r' },
    ] as const;
    expect(renderEvent({ type: 'rig-checked', findings }, 0)).toBe('note (swap): m; r');
  });
});

describe('the live display', () => {
  const run = {
    index: 0,
    phase: 'repeat',
    round: 1,
    workload: 'pack',
    conditional: false,
  } as const;

  it('says what runs now, how far it is, what is left and the last figures', () => {
    let state = startLive(0);
    state = advanceLive(
      state,
      { type: 'sitting-started', folder: 'f', runs: 4, estimateSeconds: 40 },
      0,
    );
    expect(secondsLeft(state, 4)).toBe(36);
    state = advanceLive(state, { type: 'run-started', run, pid: 1 }, 4);
    expect(renderLive(state, 4, 79)).toContain('running pack, repeat 1, 0 s');
    const step = { type: 'step-started', run, step: 'unpack' } as const;
    expect(renderLive(advanceLive(state, step, 4), 6, 79)).toContain(
      'running pack, repeat 1: unpack, 2 s',
    );
    expect(renderEvent(step, 4)).toBeNull();
    state = advanceLive(state, { type: 'run-finished', run, record: sampleRun() }, 5);
    state = advanceLive(
      state,
      { type: 'cooldown-started', next: { ...run, index: 1, round: 2 }, atMostSeconds: 5 },
      5,
    );
    expect(renderLive(state, 7, 79)).toBe(
      [
        '  pack, repeat 1: wall 2.500 s in 2.5 s',
        `${'━'.repeat(7)}${'┄'.repeat(22)} 1 of 4 runs, 13 s left`,
        'cooling down before pack, repeat 2, at most 3 s more',
      ].join('\n'),
    );
  });

  it('never grows wider than the terminal', () => {
    let state = startLive(0);
    const failure = { code: 'time-limit', message: 'm'.repeat(500) } as const;
    state = advanceLive(
      state,
      { type: 'run-finished', run, record: sampleRun({ outcome: 'failed', failure, metrics: [] }) },
      1,
    );
    for (const line of renderLive(state, 2, 40).split('\n'))
      expect([...line].length).toBeLessThanOrEqual(40);
  });
});
