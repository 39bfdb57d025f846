import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { loggedEvents, runCli } from '../setup/cli.ts';
import { journalLines, sittingFile, theFolder, writeHarbour } from '../setup/command-suite.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { openTerminal } from '../setup/terminal.ts';

const tmux = needs.program('tmux');

const reel = `  - id: reel
    title: Demo reel
    kind: by-hand
    instruction: Start the demo reel and wait for the score.
    metrics:
      score: { from: operator, unit: points, better: higher, least: 0, most: 100000 }
`;

const quick = `  - id: quick
    title: A program of the tester's own
    kind: command
    argv: [/bin/true]
`;

const writeSuite = (cwd: string, repeats = 2, cooldown = '0 s'): string =>
  writeHarbour(cwd, reel + quick, { repeats, cooldown });
const theSitting = (cwd: string): string => theFolder(join(cwd, 'results'));
const journal = (cwd: string) => journalLines(theSitting(cwd));
const stateOf = (cwd: string): string => sittingFile(theSitting(cwd)).state;
const isSealed = (cwd: string): boolean => existsSync(join(theSitting(cwd), 'bagit.txt'));

async function waitingSitting(): Promise<string> {
  const cwd = temporaryFolder();
  writeSuite(cwd);
  expect((await runCli(['run', 'harbour.yaml'], cwd)).code).toBe(4);
  return cwd;
}

describe('figures read by hand without a terminal', () => {
  it('are left for later, the rest is measured, and the sitting waits and says what to do', async () => {
    const cwd = temporaryFolder();
    writeSuite(cwd);
    const run = await runCli(['run', 'harbour.yaml', '--log', 'log.jsonl'], cwd);
    expect(run).toMatchObject({ code: 4, stderr: '' });
    const left = run.stdout.split('\n').filter((line) => line.includes('left for later'));
    expect(left).toEqual([
      'run 2 of 5: reel, repeat 1: left for later, nobody can be asked without a terminal',
      'run 4 of 5: reel, repeat 2: left for later, nobody can be asked without a terminal',
    ]);
    const folder = theSitting(cwd).slice(cwd.length + 1);
    expect(run.stdout).toContain(
      `waiting for figures read by hand: steadyrig enter ${folder} figures.csv`,
    );
    expect(journal(cwd).map(({ workload, phase }) => [workload, phase])).toEqual([
      ['quick', 'warm-up'],
      ['quick', 'repeat'],
      ['quick', 'repeat'],
    ]);
    expect([stateOf(cwd), isSealed(cwd)]).toEqual(['waiting', false]);
    const types = loggedEvents(join(cwd, 'log.jsonl')).map(({ type }) => type);
    expect(types).not.toContain('figure-wanted');
    expect((await runCli(['show'], cwd)).stdout).toContain('to enter  reel, rounds 1, 2');
    expect((await runCli(['list'], cwd)).stdout).toContain('waiting');
  });

  it('cannot be asked for by enter either, which says what to give instead', async () => {
    const cwd = await waitingSitting();
    const enter = await runCli(['enter', 'latest'], cwd);
    expect(enter).toMatchObject({ code: 2, stdout: '' });
    expect(enter.stderr).toContain('nobody can be asked without a terminal: name a CSV');
  });
});

describe('figures entered from a file', () => {
  it('complete and seal the sitting once none is missing', async () => {
    const cwd = await waitingSitting();
    const template = (await runCli(['enter', 'latest', '--template'], cwd)).stdout;
    expect(template).toBe(
      'workload,round,metric,value,unit,reason\nreel,1,score,,points,\nreel,2,score,,points,\n',
    );
    writeFileSync(join(cwd, 'one.csv'), template.replace('1,score,,', '1,score,4120,'));
    const first = await runCli(['enter', 'latest', 'one.csv'], cwd);
    expect(first).toMatchObject({ code: 4, stderr: '' });
    expect(first.stdout).toContain('waiting, not sealed: to enter: reel, round 2');
    writeFileSync(
      join(cwd, 'two.csv'),
      'workload,round,metric,value,reason\nreel,2,score,4130,\nreel,1,score,4210,digits swapped\n',
    );
    const second = await runCli(['enter', 'latest', 'two.csv', '--json'], cwd);
    expect(second).toMatchObject({ code: 0, stderr: '' });
    expect(JSON.parse(second.stdout)).toMatchObject({
      ...{ state: 'complete', addedRuns: 1, correctedFigures: 1 },
      missing: { measured: 0, byHand: [] },
    });
    const entries = journal(cwd).slice(-3);
    expect(entries).toMatchObject([
      { workload: 'reel', round: 1, entry: { by: 'file' }, metrics: [{ value: 4120 }] },
      { workload: 'reel', round: 2, entry: { by: 'file' }, metrics: [{ value: 4130 }] },
      { metric: 'score', from: 4120, to: 4210, reason: 'digits swapped' },
    ]);
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
    execFileSync('sha512sum', ['--check', '--quiet', 'manifest-sha512.txt'], {
      cwd: theSitting(cwd),
    });
    const page = (await runCli(['show'], cwd)).stdout;
    expect(page).toContain('corrected reel, repeat 1, score: 4120 points, now 4210 points: digits');
    const shown = JSON.parse((await runCli(['show', '--json'], cwd)).stdout);
    const row = shown.summary.rows.find(({ metric }: { metric: string }) => metric === 'score');
    expect(row.values).toEqual([4210, 4130]);
    expect(shown.corrections).toHaveLength(1);
    const third = await runCli(['enter', 'latest', 'two.csv'], cwd);
    expect(third).toMatchObject({ code: 2, stdout: '' });
    expect(third.stderr).toContain('is sealed, and a sealed sitting is never changed');
  });

  it('enter all or nothing: a file with a problem changes no byte', async () => {
    const cwd = await waitingSitting();
    const before = readFileSync(join(theSitting(cwd), 'data/runs.jsonl'));
    writeFileSync(
      join(cwd, 'f.csv'),
      'workload,round,metric,value\nreel,1,score,4120\nreel,2,scoer,"4,1"\nreal,2,score,1\n',
    );
    const enter = await runCli(['enter', 'latest', 'f.csv'], cwd);
    expect(enter).toMatchObject({ code: 2, stdout: '' });
    expect(enter.stderr).toBe(
      'f.csv:3:8: unknown metric "scoer"; did you mean score?\nf.csv:4:1: unknown workload "real"; did you mean reel?\n',
    );
    expect(readFileSync(join(theSitting(cwd), 'data/runs.jsonl'))).toEqual(before);
    for (const [name, message] of [
      ['none.csv', 'none.csv: cannot be read: no such file'],
      ['results', 'results: is a folder'],
    ] as const) {
      const refused = await runCli(['enter', 'latest', name], cwd);
      expect(refused).toMatchObject({ code: 2, stderr: expect.stringContaining(message) });
    }
  });
});

describe('figures read by hand on a terminal', () => {
  it.skipIf(tmux.missing)(
    'are asked for after the countdown, checked, corrected and kept',
    async () => {
      const cwd = temporaryFolder();
      writeSuite(cwd, 4, '1 s');
      const terminal = openTerminal(tmux.path, 'run harbour.yaml --acknowledge', cwd);
      await terminal.see('Start the demo reel and wait for the score.');
      await terminal.see(/cooling down before reel, repeat 1, at most 1 s more/);
      const asked = await terminal.see('score (points, higher is better):');
      expect(asked).not.toContain('cooling down');
      terminal.type('4,12');
      await terminal.see('holds a comma');
      terminal.type('4210 points');
      await terminal.see(/repeat 2\)(.|\n)*score \(points/);
      terminal.type('correct');
      await terminal.see('corrected score (points, higher is better):');
      terminal.type('4120');
      await terminal.see('reason for the correction:');
      terminal.type('digits swapped');
      await terminal.see('corrected: 4210 points, now 4120 points');
      terminal.type('4122');
      await terminal.see(/repeat 3\)(.|\n)*score \(points/);
      terminal.type('9000');
      await terminal.see('standard deviations away from the earlier ones: keep it? [y/N]');
      terminal.type('y');
      await terminal.see(/repeat 4\)(.|\n)*score \(points/);
      terminal.type('4121');
      await terminal.see('exit 0');
      expect([stateOf(cwd), isSealed(cwd)]).toEqual(['complete', true]);
      const hand = journal(cwd).filter(({ workload }) => workload === 'reel');
      expect(hand).toMatchObject([
        { metrics: [{ value: 4210 }], entry: { by: 'operator', confirmed: false } },
        { metrics: [{ value: 4122 }] },
        { metrics: [{ value: 9000 }], entry: { by: 'operator', confirmed: true } },
        { metrics: [{ value: 4121 }] },
      ]);
      expect(hand[0]?.['cooldown']).toMatchObject({ ended: 'time-passed' });
      expect(journal(cwd)).toContainEqual(
        expect.objectContaining({ from: 4210, to: 4120, reason: 'digits swapped' }),
      );
    },
  );

  it.skipIf(tmux.missing)(
    'end the sitting on Ctrl-C at the question, and what is recorded stays',
    async () => {
      const cwd = temporaryFolder();
      writeSuite(cwd);
      const terminal = openTerminal(tmux.path, 'run harbour.yaml --acknowledge', cwd);
      await terminal.see('score (points, higher is better):');
      terminal.press('C-c');
      const screen = await terminal.see('exit 4');
      expect(screen).toContain('SIGINT: the run under way is finished');
      expect(stateOf(cwd)).toBe('interrupted');
      expect(journal(cwd).map(({ workload }) => workload)).toEqual(['quick']);
    },
  );

  it.skipIf(tmux.missing)(
    'are left for later on skip and Ctrl-D, and asked for again by enter',
    async () => {
      const cwd = temporaryFolder();
      writeSuite(cwd);
      const terminal = openTerminal(tmux.path, 'run harbour.yaml --acknowledge', cwd);
      await terminal.see('score (points, higher is better):');
      terminal.type('skip');
      await terminal.see(/repeat 2\)(.|\n)*score \(points/);
      terminal.press('C-d');
      await terminal.see('exit 4');
      expect(stateOf(cwd)).toBe('waiting');
      const later = openTerminal(tmux.path, 'enter latest', cwd);
      await later.see(/repeat 1\)(.|\n)*score \(points/);
      later.type('4120');
      await later.see(/repeat 2\)(.|\n)*score \(points/);
      later.press('C-c');
      await later.see('exit 4');
      const last = openTerminal(tmux.path, 'enter latest', cwd);
      await last.see(/repeat 2\)(.|\n)*score \(points/);
      last.type('4130');
      await last.see('complete and sealed');
      await last.see('exit 0');
      expect(isSealed(cwd)).toBe(true);
    },
  );

  it.skipIf(tmux.missing)('hold up nothing when the terminal is gone', async () => {
    const cwd = temporaryFolder();
    writeSuite(cwd);
    const terminal = openTerminal(tmux.path, 'run harbour.yaml --acknowledge', cwd);
    await terminal.see('score (points, higher is better):');
    terminal.hangUp();
    // Whichever comes first: the end of the input leaves the figure for later, SIGHUP ends the sitting.
    await vi.waitFor(() => expect(['interrupted', 'waiting']).toContain(stateOf(cwd)), 10_000);
    expect(journal(cwd)[0]).toMatchObject({ workload: 'quick', outcome: 'ok' });
  });

  // Nobody may sit there: then nothing is asked, whatever else is a terminal.
  it.skipIf(tmux.missing).each([
    ['the output is a pipe', 'run harbour.yaml --acknowledge | cat'],
    ['the input is not a terminal', 'run harbour.yaml --acknowledge < /dev/null'],
    ['the tester says so', 'run harbour.yaml --acknowledge --unattended'],
  ])('are not asked for when %s', async (_, command) => {
    const cwd = temporaryFolder();
    writeSuite(cwd);
    const terminal = openTerminal(tmux.path, command, cwd);
    const screen = await terminal.see(/exit \d/);
    expect(screen).not.toContain('higher is better');
    expect(stateOf(cwd)).toBe('waiting');
  });
});
