import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { enterFigures } from '../../src/api/enter-figures.ts';
import { openSuite } from '../../src/api/open-suite.ts';
import type { SittingOptions } from '../../src/api/options.ts';
import { runSitting, type SittingOutcome } from '../../src/api/run-sitting.ts';
import { readSitting } from '../../src/results/read-sitting.ts';
import { verifySeal } from '../../src/results/verify.ts';
import { runCli } from '../setup/cli.ts';
import { journalLines, theFolder, writeSuite } from '../setup/command-suite.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { unwrap } from '../setup/unwrap.ts';

describe('a night with failing runs', () => {
  it('tries them again, parks what fails in a row, and every command tells both', async () => {
    const cwd = temporaryFolder();
    const flag = join(cwd, 'flag');
    // Fails on its first start and on every other one after that.
    const flaky = `if [ -e ${flag} ]; then rm ${flag}; else touch ${flag}; exit 3; fi`;
    writeSuite(
      cwd,
      { flaky, broken: 'exit 7', fine: 'exit 0' },
      'retry: { failed: 1 }\npark-after: 4\n',
    );
    const { code, stdout } = await runCli(['run', 'harbour.yaml', '--acknowledge'], cwd);
    expect(stdout).toContain('tried again, the attempt before failed, unexpected-exit-code');
    expect(stdout.match(/^broken: parked, 4 runs failed in a row/gm)).toHaveLength(1);
    expect(stdout).toContain('broken, repeat 2: left out, parked');
    expect(code).toBe(1);
    const folder = theFolder(join(cwd, 'results'));
    const attempts = journalLines(folder).map(({ workload, attempt }) => `${workload} ${attempt}`);
    expect(attempts.filter((name) => name.startsWith('flaky'))).toEqual([
      ...['flaky 1', 'flaky 2', 'flaky 1', 'flaky 2', 'flaky 1', 'flaky 2'],
    ]);
    const page = (await runCli(['show'], cwd)).stdout.replace(/\s+/g, ' ');
    expect(page).toContain('8 of 9 planned runs recorded, 2 failed, 5 runs were tried again');
    expect(page).toContain('left out: parked, 4 runs failed in a row (unexpected-exit-code)');
    expect(page).toContain(
      'tried again flaky, warm-up 1, repeat 1, repeat 2: unexpected-exit-code',
    );
    const { runs, summary } = JSON.parse((await runCli(['show', '--json'], cwd)).stdout);
    expect(runs).toHaveLength(13);
    expect(summary.workloads).toMatchObject([{ ok: 2, failed: 0 }, { failed: 1 }, { ok: 2 }]);
    const [row] = JSON.parse((await runCli(['list', '--json'], cwd)).stdout).sittings;
    expect(row).toMatchObject({ runs: 8, failedRuns: 2, attempts: 13, parked: ['broken'] });
    const exported = await runCli(['export', 'latest'], cwd);
    expect(exported.stdout.trim().split('\r\n')).toHaveLength(5);
    expect(exported.stderr).toContain('1 failed repeat');
    writeFileSync(join(cwd, 'figures.csv'), exported.stdout);
    expect((await runCli(['import', 'figures.csv', '--results', 'elsewhere'], cwd)).code).toBe(0);
  });
});

/** A sitting in which every run takes 100 s by a clock of its own. */
async function night(
  cwd: string,
  seconds: number,
  more: Partial<SittingOptions> = {},
): Promise<SittingOutcome> {
  let now = 0;
  const clock = {
    now: () => new Date(Date.UTC(2026, 0, 31, 22) + now * 1000),
    monotonicSeconds: () => now,
    sleep: (waited: number, signal: AbortSignal) =>
      new Promise<void>((resolve) => {
        signal.addEventListener('abort', () => resolve(), { once: true });
        // All waits are over at once but for those between heartbeats, of which there is no end.
        if (waited !== 5) resolve();
      }),
  };
  const suite = unwrap(await openSuite(join(cwd, 'harbour.yaml')));
  return unwrap(
    await runSitting(suite, {
      ...{ rig: 'bench-a', results: join(cwd, 'results'), cache: join(cwd, 'cache') },
      ...{ telemetry: false, clock, deadline: new Date(clock.now().getTime() + seconds * 1000) },
      onEvent: ({ type }) => {
        if (type === 'run-started') now += 100;
      },
      ...more,
    }),
  );
}

const reel = `  - id: reel
    title: Demo reel
    kind: by-hand
    instruction: Start the demo reel and wait for the score.
    metrics:
      score: { from: operator, unit: points, better: higher }
`;

describe('a night with a deadline', () => {
  it('is sealed as cut short, with as many repeats of each workload, give or take one', async () => {
    const cwd = temporaryFolder();
    writeSuite(cwd, { one: 'exit 0', two: 'exit 0' });
    const { state, sitting, runs, folder } = await night(cwd, 555);
    expect(state).toBe('cut-short');
    expect(runs.map(({ workload, phase }) => `${workload} ${phase}`)).toEqual([
      ...['one warm-up', 'two warm-up', 'one repeat', 'two repeat', 'one repeat'],
    ]);
    expect(sitting).toMatchObject({
      deadline: '2026-01-31T22:09:15.000Z',
      interruptions: [{ cause: 'deadline', runs: 5 }],
    });
    expect(await verifySeal(folder)).toMatchObject({ sealed: true, findings: [] });
    const listed = await runCli(['list'], cwd);
    expect(listed.stdout).toContain('cut-short');
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
    expect((await runCli(['enter', 'latest', '--template'], cwd)).stdout.trim()).toBe(
      'workload,round,metric,value,unit,reason',
    );
    expect((await runCli(['export', 'latest'], cwd)).stderr).toContain('(cut-short)');
  });

  it('that ends before one whole round is interrupted, and goes on with a new deadline', async () => {
    const cwd = temporaryFolder();
    writeSuite(cwd, { one: 'exit 0', two: 'exit 0' });
    const { state, sitting, folder } = await night(cwd, 320);
    expect([state, sitting.interruptions.at(-1)?.cause]).toEqual(['interrupted', 'deadline']);
    // Its deadline has passed: nothing is measured.
    const over = await runCli(['continue', 'latest', '--unattended', '--accept-changes'], cwd);
    expect([over.code, unwrap(await readSitting(folder)).runs.length]).toEqual([4, 3]);
    const { code } = await runCli(
      ['continue', 'latest', '--unattended', '--accept-changes', '--for', '8h'],
      cwd,
    );
    expect(code).toBe(0);
    expect(unwrap(await readSitting(folder))).toMatchObject({
      sealed: true,
      sitting: { state: 'complete' },
    });
  });

  it('waits for the figures of the rounds it began, and is sealed as cut short with them', async () => {
    const cwd = temporaryFolder();
    const path = writeSuite(cwd, { one: 'exit 0' }, '');
    writeFileSync(path, `${readFileSync(path, 'utf8').replace('repeats: 2', 'repeats: 4')}${reel}`);
    const { state, folder } = await night(cwd, 315);
    expect(state).toBe('waiting');
    const template = (await runCli(['enter', 'latest', '--template'], cwd)).stdout.trim();
    expect(template.split('\n').slice(1)).toEqual([
      'reel,1,score,,points,',
      'reel,2,score,,points,',
    ]);
    const figures = join(cwd, 'figures.csv');
    writeFileSync(figures, 'workload,round,metric,value\nreel,1,score,4120\nreel,2,score,4130\n');
    const entered = unwrap(await enterFigures(folder, { kind: 'file', path: figures }));
    expect(entered.sitting.state).toBe('cut-short');
    expect(await verifySeal(folder)).toMatchObject({ sealed: true, findings: [] });
  });

  it('holds the machine awake where that is asked for, and says when it cannot', async () => {
    const cwd = temporaryFolder();
    writeSuite(cwd, { one: 'exit 0' });
    const told: string[] = [];
    const { sitting } = await night(cwd, 9999, {
      ...{ holdsOffSleep: true, path: join(cwd, 'nothing-here') },
      onEvent: (event) => void (event.type === 'notice' && told.push(event.message)),
    });
    const reason = 'sleep and shutdown are not held off: systemd-inhibit is not found';
    expect([sitting.notInhibited, told]).toEqual([reason, [reason]]);
  });
});
