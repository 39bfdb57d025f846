import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { runCli, startCli } from '../setup/cli.ts';
import { untilGo, untilLogged, writeHarbour } from '../setup/command-suite.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { openTerminal } from '../setup/terminal.ts';

const tmux = needs.program('tmux');

/** Two workloads, the second of which waits for a file. */
function workingFolder(): string {
  const cwd = temporaryFolder();
  const wait = untilGo(join(cwd, 'go'));
  const workloads = `  - { id: quick, title: Quick, kind: command, argv: [/bin/true] }
  - { id: slow, title: Slow, kind: command, argv: [/bin/sh, -c, ${JSON.stringify(wait)}] }
`;
  writeHarbour(cwd, workloads, { 'warm-ups': 0, limits: '{ time: 60 s, output: 1 MiB }' });
  return cwd;
}

/** A sitting in the middle of its second run. */
async function startSitting(cwd: string) {
  const log = join(cwd, 'log.jsonl');
  const started = startCli(['run', 'harbour.yaml', '--log', log], cwd);
  onTestFinished(() => void started.child.kill('SIGKILL'));
  await untilLogged(log, 'run-started', 2);
  return started;
}

const letGo = (cwd: string): void => writeFileSync(join(cwd, 'go'), '');

describe('watching', () => {
  it('says what to do where nothing is under way, and for a folder that is none', async () => {
    const cwd = temporaryFolder();
    writeFileSync(join(cwd, 'x'), '');
    const none = await runCli(['watch', '--results', '.'], cwd);
    expect(none).toMatchObject({ code: 2, stdout: '' });
    expect(none.stderr).toContain('no sitting is under way in .: steadyrig show prints the latest');
    expect((await runCli(['watch'], cwd)).code).toBe(2);
    expect((await runCli(['watch', 'x'], cwd)).code).toBe(2);
  });

  it('prints a page once in a pipe, a snapshot with --json, and changes nothing', async () => {
    const cwd = workingFolder();
    const { finished } = await startSitting(cwd);
    const page = await runCli(['watch'], cwd);
    expect(page).toMatchObject({ code: 0, stderr: '' });
    expect(page.stdout).toContain('under way');
    expect(page.stdout).toContain('1 of 4 runs');
    expect(page.stdout).toContain('running slow, repeat 1 of 2');
    expect(page.stdout).toContain('quick, repeat 2; slow, repeat 2');
    expect(page.stdout).not.toContain('\u001b');
    const json = JSON.parse((await runCli(['watch', 'latest', '--json'], cwd)).stdout);
    expect(json).toMatchObject({
      ...{ suite: 'harbour', rig: 'this-rig', state: 'open', planned: 4, done: 1 },
      heart: { kind: 'beating' },
      now: { phase: 'run', run: { index: 1, workload: 'slow' }, attempt: 1 },
    });
    letGo(cwd);
    expect(await finished).toMatchObject({ code: 0, stderr: '' });
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
    const after = await runCli(['watch', 'latest'], cwd);
    expect(after.code).toBe(0);
    expect(after.stdout).toContain('complete and sealed: steadyrig show');
    expect((await runCli(['watch'], cwd)).code).toBe(2);
  });

  it('calls it stale when the agent was killed, and says what to do', async () => {
    const cwd = workingFolder();
    const { child, finished } = await startSitting(cwd);
    child.kill('SIGKILL');
    await finished;
    const page = await runCli(['watch'], cwd);
    expect(page).toMatchObject({ code: 4, stderr: '' });
    const text = page.stdout.replace(/\n +/g, ' ');
    expect(text).toMatch(/! STALE: its last heartbeat is \d+ s old and its process is gone/);
    expect(text).toContain('steadyrig continue');
    expect(text).toContain('last seen running slow, repeat 1 of 2');
  });

  it.skipIf(tmux.missing)('redraws on a terminal and ends by itself with the sitting', async () => {
    const cwd = workingFolder();
    const { finished } = await startSitting(cwd);
    const terminal = openTerminal(tmux.path, 'watch', cwd);
    await terminal.see('running slow, repeat 1 of 2');
    const leaving = openTerminal(tmux.path, 'watch', cwd);
    await leaving.see('running slow, repeat 1 of 2');
    leaving.press('C-c');
    await leaving.see('exit 0');
    letGo(cwd);
    expect((await finished).code).toBe(0);
    const screen = await terminal.see('exit 0');
    expect(screen).toContain('complete and sealed');
    // Each page was drawn over the one before.
    expect(screen.match(/harbour on this-rig/g)).toHaveLength(1);
  });

  it('has an exit code for how the sitting ended', async () => {
    const cwd = workingFolder();
    const { child, finished } = await startSitting(cwd);
    child.kill('SIGINT');
    await untilLogged(join(cwd, 'log.jsonl'), 'stop-requested');
    letGo(cwd);
    expect((await finished).code).toBe(4);
    const page = await runCli(['watch', 'latest', '--once'], cwd);
    expect(page.code).toBe(4);
    expect(page.stdout.replace(/\n +/g, ' ')).toContain('interrupted: steadyrig continue');
  });
});
