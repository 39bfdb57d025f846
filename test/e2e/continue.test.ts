import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { groupBy } from '../../src/lib/group-by.ts';
import { type Finished, runCli, startCli } from '../setup/cli.ts';
import {
  journalLines,
  sittingFile,
  theFolder,
  untilGo,
  untilLogged,
  untilRunning,
  writeSuite,
} from '../setup/command-suite.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

/** Kills the command once its log holds so many events of a kind. */
async function killedAt(
  args: readonly string[],
  cwd: string,
  type: string,
  count: number,
): Promise<void> {
  const log = join(cwd, `log-${process.hrtime.bigint()}`);
  const { child, finished } = startCli([...args, '--log', log], cwd);
  await untilLogged(log, type, count, 5);
  child.kill('SIGKILL');
  await finished;
}

/** A sitting that was killed while its second run was under way: `go` ends that run. */
async function killedSitting(): Promise<{
  cwd: string;
  folder: string;
  go: string;
  suite: string;
}> {
  const cwd = temporaryFolder();
  const go = join(cwd, 'go');
  const suite = writeSuite(cwd, { quick: 'exit 0', slow: untilGo(go) });
  const log = join(cwd, 'log');
  const { child, finished } = startCli(['run', suite, '--log', log], cwd);
  await untilRunning(log, 1);
  child.kill('SIGKILL');
  await finished;
  return { cwd, folder: theFolder(join(cwd, 'results')), go, suite };
}

/** Attempts at each planned run are numbered without a gap, and exactly one of them is good: the last. */
function expectEachOnce(folder: string, planned: number): void {
  const byPlan = groupBy(journalLines(folder), ({ plan }) => plan);
  expect([...byPlan.keys()].sort((a, b) => a - b)).toEqual([...Array(planned).keys()]);
  for (const attempts of byPlan.values()) {
    expect(attempts.map(({ attempt }) => attempt)).toEqual(attempts.map((_, index) => index + 1));
    const codes = attempts.map(({ failure }) => failure?.code ?? 'ok');
    expect(codes).toEqual([...codes.slice(1).map(() => 'lost'), 'ok']);
  }
}

async function expectSealed(cwd: string, ended: Finished): Promise<void> {
  expect(ended).toMatchObject({ code: 0, stderr: '' });
  expect(ended.stdout).toContain('complete and sealed, all runs good');
  expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
}

describe('a sitting that was killed', () => {
  it('goes on with the same plan, records the lost run and tries it again', async () => {
    const { cwd, folder, go } = await killedSitting();
    const marker = JSON.parse(readFileSync(join(folder, 'under-way.json'), 'utf8'));
    expect(marker).toMatchObject({ phase: 'run', run: { plan: 1, attempt: 1 } });
    const before = sittingFile(folder);
    writeFileSync(go, '');
    const ended = await runCli(['continue'], cwd);
    await expectSealed(cwd, ended);
    expect(ended.stdout).toContain('sitting continued: 1 of 6 runs are done');
    expect(ended.stdout).toContain('tried again, the attempt before was lost');
    expectEachOnce(folder, 6);
    const [, lost] = journalLines(folder);
    expect(lost).toMatchObject({
      ...{ plan: 1, attempt: 1, startedAt: marker.run.since, bootId: marker.bootId },
      failure: { code: 'lost', message: expect.stringContaining('killed, or crashed') },
    });
    const { plan, interruptions, continuations } = sittingFile(folder);
    expect(plan).toEqual(before.plan);
    expect(interruptions).toMatchObject([{ cause: 'died', runs: 1 }]);
    expect(continuations).toMatchObject([{ tornBytes: 0, lost: 1, changes: [] }]);
    expect(existsSync(join(folder, 'under-way.json'))).toBe(false);
    const tables = readFileSync(join(folder, 'data/telemetry.jsonl'), 'utf8').split('\n');
    expect(tables.filter((line) => line.includes('"steadyrig/sensors/1"'))).toHaveLength(2);
  });

  it.each([
    ['sitting-started', 1, 'run-started'],
    ['run-finished', 1, 'run-finished'],
    ['run-started', 4, 'sitting-continued'],
    ['run-finished', 6, 'sitting-continued'],
    ['sealing', 1, 'sitting-continued'],
  ])('at %s %i, and then at %s, loses and doubles nothing', async (type, count, then) => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { one: 'exit 0', two: 'exit 0' });
    await killedAt(['run', suite], cwd, type, count);
    const folder = theFolder(join(cwd, 'results'));
    if (!existsSync(join(folder, 'bagit.txt'))) {
      await killedAt(['continue'], cwd, then, 1);
    }
    if (!existsSync(join(folder, 'bagit.txt'))) {
      await expectSealed(cwd, await runCli(['continue'], cwd));
    }
    expectEachOnce(folder, 6);
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
  });

  it('has the torn tail of its journal cut off, and the cut recorded', async () => {
    const { cwd, folder, go } = await killedSitting();
    const torn = '{"schema":"steadyrig/run/1","plan":1';
    appendFileSync(join(folder, 'data/runs.jsonl'), torn);
    appendFileSync(join(folder, 'data/telemetry.jsonl'), '{"schema":"steadyrig/sam');
    writeFileSync(go, '');
    await expectSealed(cwd, await runCli(['continue'], cwd));
    expectEachOnce(folder, 6);
    expect(sittingFile(folder).continuations).toMatchObject([{ tornBytes: torn.length, lost: 1 }]);
    const samples = readFileSync(join(folder, 'data/telemetry.jsonl'), 'utf8').trimEnd();
    for (const line of samples.split('\n')) expect(() => JSON.parse(line)).not.toThrow();
  });

  it('is refused with file and line when its journal is damaged elsewhere, and left as it is', async () => {
    const { cwd, folder } = await killedSitting();
    const journal = join(folder, 'data/runs.jsonl');
    const damaged = readFileSync(journal, 'utf8').replace('"outcome":"ok"', '"outcome":"ko"');
    writeFileSync(journal, damaged);
    const refused = await runCli(['continue'], cwd);
    expect(refused.code).toBe(2);
    expect(refused.stderr).toContain('data/runs.jsonl:1: damaged: the checksum does not fit');
    expect(readFileSync(journal, 'utf8')).toBe(damaged);
    expect(sittingFile(folder)).toMatchObject({ state: 'open', continuations: [] });
  });

  it('is mentioned when the same suite is run again, which begins another', async () => {
    const { cwd, folder, go, suite } = await killedSitting();
    writeFileSync(go, '');
    const other = await runCli(['run', suite], cwd);
    expect(other.code).toBe(0);
    expect(other.stdout).toContain('unfinished');
    expect(other.stdout).toContain(folder.slice(-4));
    expect(sittingFile(folder).state).toBe('open');
  });
});

describe('a sitting on a rig that has changed', () => {
  it('is refused with what was and what is, and goes on when told so, which is recorded', async () => {
    const cwd = temporaryFolder();
    const program = join(cwd, 'work');
    const go = join(cwd, 'go');
    writeFileSync(program, `#!/bin/sh\n${untilGo(go)}\n`, { mode: 0o755 });
    const suite = writeSuite(cwd, { work: 'exit 0' });
    writeFileSync(suite, readFileSync(suite, 'utf8').replace(/argv: .*/, `argv: [${program}]`));
    await killedAt(['run', suite], cwd, 'run-started', 1);
    const folder = theFolder(join(cwd, 'results'));
    writeFileSync(program, '#!/bin/sh\nexit 0\n');
    const refused = await runCli(['continue'], cwd);
    expect(refused.code).toBe(3);
    expect(refused.stderr).toMatch(/program\.\S+: was .* is .*\nrefuse \(changed\)/s);
    expect(sittingFile(folder)).toMatchObject({ state: 'open', continuations: [] });
    await killedAt(['continue', '--accept-changes'], cwd, 'sitting-continued', 1);
    // What was accepted is known from then on.
    await expectSealed(cwd, await runCli(['continue'], cwd));
    const { continuations } = sittingFile(folder);
    expect(continuations).toMatchObject([
      { changes: [{ path: `program.${program}` }] },
      { changes: [] },
    ]);
  });
});

describe('continue', () => {
  it('refuses a sealed sitting, and sends one that waits for figures to enter', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { one: 'exit 0' });
    expect((await runCli(['continue'], cwd)).stderr).toContain('no sitting in results is open');
    expect((await runCli(['run', suite], cwd)).code).toBe(0);
    const sealed = await runCli(['continue', 'latest'], cwd);
    expect(sealed).toMatchObject({ code: 2 });
    expect(sealed.stderr).toContain('is sealed, and a sealed sitting is never changed');
    appendFileSync(
      suite,
      '  - id: reel\n    title: Reel\n    kind: by-hand\n    instruction: Start it.\n    metrics: { score: { from: operator, unit: points, better: higher } }\n',
    );
    expect((await runCli(['run', suite, '--results', 'hand'], cwd)).code).toBe(4);
    const waiting = await runCli(['continue', 'latest', '--results', 'hand'], cwd);
    expect(waiting).toMatchObject({ code: 2 });
    expect(waiting.stderr).toContain('steadyrig enter hand/');
  });

  it('wants the suite file again where inputs lie beside it, and that very file', async () => {
    const cwd = temporaryFolder();
    writeFileSync(join(cwd, 'prices.csv'), 'part,price\n');
    const go = join(cwd, 'go');
    const suite = writeSuite(cwd, { work: `cat {input:prices}; ${untilGo(go)}` });
    appendFileSync(suite, '    inputs: { prices: { path: prices.csv } }\n');
    await killedAt(['run', suite], cwd, 'run-started', 1);
    writeFileSync(go, '');
    const without = await runCli(['continue'], cwd);
    expect(without.code).toBe(2);
    expect(without.stderr).toContain('inputs that lie beside the suite file; give it with --suite');
    const text = readFileSync(suite, 'utf8');
    writeFileSync(suite, `${text}# changed\n`);
    const other = await runCli(['continue', '--suite', suite], cwd);
    expect(other.code).toBe(2);
    expect(other.stderr).toContain('began with another suite file');
    writeFileSync(suite, text);
    await expectSealed(cwd, await runCli(['continue', '--suite', suite], cwd));
  });
});
