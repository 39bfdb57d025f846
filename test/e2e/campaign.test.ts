import { existsSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { startAsGiven } from '../setup/cli.ts';
import { sittingFiles, writeHarbour } from '../setup/command-suite.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { openTerminal } from '../setup/terminal.ts';

const tmux = needs.program('tmux');

/** Two rigs that differ by nothing that a program could see. */
function workingFolder(expected = ''): string {
  const cwd = temporaryFolder();
  const workloads = `  - { id: quick, title: Quick, kind: command, argv: [/bin/true] }
  - { id: other, title: Other, kind: command, argv: [/bin/true] }
`;
  const campaign = `campaign: harbour-cases
title: Two cases (invented)
question: Does the case matter?
invented: true
suite: harbour.yaml
baseline: case-a
sittings: 2
assemblies: 1
return-to-baseline: true
factors:
  case: { title: Case, levels: [plain, cheap] }
parts:
  case-plain: { role: case, name: Example Case }
  case-cheap: { role: case, name: Example Cheap Case }
  cooler: { role: cooler, name: Example Cooler }
rigs:
  case-a: { levels: { case: plain }, parts: [case-plain, cooler] }
  case-b: { levels: { case: cheap }, parts: [case-cheap, cooler]${expected} }
conditions:
  ambient: { prompt: Room temperature, kind: temperature }
  paste: { prompt: Paste and when }
questions:
  - { rig: case-b }
`;
  writeHarbour(cwd, workloads, { repeats: 1, 'warm-ups': 0, order: 'shuffled' });
  writeFileSync(join(cwd, 'campaign.yaml'), campaign);
  return cwd;
}

const call = (cwd: string, command: string, ...options: string[]) =>
  startAsGiven([command, 'campaign.yaml', ...options], cwd).finished;

const ready = ['--acknowledge', '--swapped', '--condition', 'ambient=21.5 °C'];

const sittings = (cwd: string) => sittingFiles(join(cwd, 'results'));

describe('a campaign', () => {
  it('is led from the first sitting to the last, the baseline first and again at the end', async () => {
    const cwd = workingFolder();
    for (let step = 1; step <= 6; step += 1) {
      const done = await call(cwd, 'next', ...ready);
      expect(done, `step ${step}`).toMatchObject({ code: 0, stderr: '' });
      expect(done.stdout).toMatch(/^INVENTED: .*\nnext: /);
      // Within an assembly nobody is asked to open the machine.
      expect(done.stdout.includes('Before you open the machine')).toBe(step % 2 === 1);
    }
    const measured = sittings(cwd);
    expect(measured.map(({ rig, assembly }) => [rig, assembly])).toEqual([
      ['case-a', 1],
      ['case-a', 1],
      ['case-b', 1],
      ['case-b', 1],
      ['case-a', 2],
      ['case-a', 2],
    ]);
    expect(measured[2]).toMatchObject({
      levels: { case: 'cheap' },
      conditions: { ambientCelsius: 21.5 },
      campaign: {
        id: 'harbour-cases',
        accepted: [],
        confirmed: ['case: Example Cheap Case', 'cooler: Example Cooler'],
        answers: [
          { id: 'ambient', text: '21.5 °C', celsius: 21.5 },
          { id: 'paste', text: null, celsius: null },
        ],
      },
    });
    const end = await call(cwd, 'next');
    expect(end.stdout).toMatch(/^INVENTED: .*\nnext: nothing is left to measure\n$/);
    const shown = await call(cwd, 'progress');
    expect(shown.stdout).toContain('6 of 6 sittings measured');
    expect(existsSync(join(cwd, 'results/swap.json'))).toBe(false);
    expect(await startAsGiven(['show'], cwd).finished).toMatchObject({
      stdout: expect.stringContaining('harbour-cases, assembly 2'),
    });
  }, 60_000);

  it('remembers over two calls that cautions were read, and asks again without its note', async () => {
    const cwd = workingFolder();
    const first = await call(cwd, 'next');
    expect(first).toMatchObject({ code: 3 });
    expect(first.stdout).toContain('Never open a power supply');
    expect(first.stderr).toContain('give --acknowledge');
    const second = await call(cwd, 'next', '--acknowledge');
    expect(second.code).toBe(3);
    expect(second.stderr).toContain('call steadyrig next again');
    const third = await call(cwd, 'next', '--unattended', '--swapped');
    expect(third).toMatchObject({ code: 3, stderr: expect.stringContaining('somebody has to do') });
    rmSync(join(cwd, 'results/swap.json'));
    const forgotten = await call(cwd, 'next', '--swapped');
    expect(forgotten).toMatchObject({ code: 3, stderr: expect.stringContaining('give --acknow') });
    await call(cwd, 'next', '--acknowledge');
    // The note knows the cautions before the swap; those before the load are of their own.
    const last = await call(cwd, 'next', '--swapped', '--acknowledge');
    expect(last.stdout).not.toContain('Before you open the machine');
    expect(last.code).toBe(0);
  });

  it('refuses what is unexpected, and records the reason where it is accepted', async () => {
    const cwd = workingFolder(', expect: { memory.total: 1 MiB, board.name: Example Board }');
    for (let step = 0; step < 2; step += 1) await call(cwd, 'next', ...ready);
    const refused = await call(cwd, 'next', ...ready);
    expect(refused).toMatchObject({ code: 3 });
    expect(refused.stdout).toMatch(/UNEXPECTED:\n {2}memory\.total: is .*, expected 1 MiB/);
    expect(refused.stderr).toContain('refuse (unexpected)');
    expect(sittings(cwd)).toHaveLength(2);
    expect(await call(cwd, 'next', ...ready, '--accept', ' ')).toMatchObject({ code: 2 });
    const accepted = await call(cwd, 'next', ...ready, '--accept', 'the label was wrong');
    expect(accepted.code).toBe(0);
    const [change, ...others] = sittings(cwd)[2].campaign.accepted;
    expect(change).toMatchObject({
      path: 'memory.total',
      from: '1 MiB',
      reason: 'the label was wrong',
    });
    const shown = await startAsGiven(['show'], cwd).finished;
    expect(shown.stdout).toContain('the label was wrong');
    // What was accepted once is known, and recorded again.
    const again = await call(cwd, 'next', ...ready);
    expect(again.code).toBe(0);
    expect(again.stdout).toContain('accepted before: memory.total: the label was wrong');
    expect(sittings(cwd)[3].campaign.accepted).toEqual([change, ...others]);
    expect((await call(cwd, 'progress')).stdout).not.toContain('[unexpected-inventory]');
    const compared = await startAsGiven(['compare', 'case-a', 'case-b'], cwd).finished;
    expect(compared.stderr + compared.stdout).toContain('the label was wrong');
  }, 60_000);

  it('only shows the step with --dry-run and --json', async () => {
    const cwd = workingFolder();
    const shown = await call(cwd, 'next', '--dry-run');
    expect(shown.stdout).toContain('next: case-a: sitting 1 of 2, assembly 1');
    const { step } = JSON.parse((await call(cwd, 'next', '--json')).stdout);
    expect(step).toMatchObject({ kind: 'measure', rig: 'case-a', swap: { from: null } });
    expect(existsSync(join(cwd, 'results'))).toBe(false);
    const wrong = await call(cwd, 'next', ...ready, '--condition', 'ambient=22');
    expect(wrong).toMatchObject({ code: 2, stderr: expect.stringContaining('has no unit') });
    const unknown = await call(cwd, 'next', ...ready, '--condition', 'humidity=40 %');
    expect(unknown).toMatchObject({ code: 2, stderr: expect.stringContaining('ambient, paste') });
  });

  it.skipIf(tmux.missing)(
    'asks on a terminal: cautions, swap, what cannot be seen, conditions',
    async () => {
      const cwd = workingFolder();
      const away = openTerminal(tmux.path, 'next campaign.yaml', cwd);
      await away.see('Type yes to go on:');
      away.type('yes');
      await away.see('Type swapped when');
      away.type('');
      expect(await away.see('exit 3')).toContain('call steadyrig next again');
      const back = openTerminal(tmux.path, 'next campaign.yaml', cwd);
      await back.see('Type swapped when');
      expect(back.screen()).not.toContain('Before you open the machine');
      back.type('swapped');
      await back.see('Type yes if all of it is as listed:');
      back.type('yes');
      await back.see('Type yes to go on:');
      back.type('yes');
      await back.see('Room temperature');
      back.type('warm');
      await back.see('is not a number with a unit');
      back.type('23 °C');
      await back.see('Paste and when');
      back.type('example paste, last week');
      await back.see('exit 0');
      expect(sittings(cwd)[0]).toMatchObject({
        conditions: { ambientCelsius: 23 },
        campaign: { answers: [{ celsius: 23 }, { text: 'example paste, last week' }] },
      });
    },
    60_000,
  );
});
