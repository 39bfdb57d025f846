import { createHash } from 'node:crypto';
import { chmodSync, readFileSync, realpathSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { ProgramRule, Step } from '../../../../src/model/suite.ts';
import { findPrograms } from '../../../../src/prepare/programs/find-programs.ts';
import { leaveOut } from '../../../../src/prepare/programs/leave-out.ts';
import { sampleSuite, sampleWorkload } from '../../../setup/samples.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';

const step = (id: string, ...argv: [string, ...string[]]): Step => ({
  id,
  argv,
  stdin: null,
  stdout: null,
  timeSeconds: null,
});

const rule = (changes: Partial<ProgramRule>): ProgramRule => ({
  version: null,
  debian: null,
  elsewhere: null,
  atLeast: null,
  ...changes,
});

/** A folder of programs, and how they are looked for in it. */
function bench(programs: Readonly<Record<string, string>>) {
  const folder = temporaryFolder();
  for (const [name, text] of Object.entries(programs)) {
    writeFileSync(join(folder, name), `#!/bin/sh\n${text}\n`);
    chmodSync(join(folder, name), 0o755);
  }
  const places = {
    find: (name: string) =>
      name in programs
        ? ({ ok: true, value: join(folder, name) } as const)
        : ({ ok: false, error: 'is not found' } as const),
    environment: { PATH: '/usr/bin:/bin', STEADYRIG_AUX: '1', LC_ALL: 'C.UTF-8' },
    workingFolder: folder,
  };
  return { folder, places };
}

const command = (...argv: [string, ...string[]]) =>
  sampleSuite({ workloads: [sampleWorkload({ program: { kind: 'command', argv } })] });

describe('programs of a suite', () => {
  it('are those of commands and of all steps, once each, without what a run makes or is given', async () => {
    const suite = sampleSuite({
      workloads: [
        sampleWorkload({ id: 'one', program: { kind: 'command', argv: ['pack'] } }),
        sampleWorkload({
          id: 'two',
          program: {
            kind: 'scripted',
            setUp: [step('a', 'copy')],
            steps: [step('b', 'pack'), step('c', '{scratch}/built'), step('d', 'pack')],
            check: [step('e', 'compare')],
            tearDown: [step('f', '{input:tree}/clean')],
          },
        }),
        sampleWorkload({
          id: 'three',
          program: { kind: 'shipped', name: 'hash', parameters: {} },
        }),
      ],
    });
    const probes = await findPrograms(suite, bench({}).places);
    expect(probes.map(({ name, workloads }) => [name, workloads])).toEqual([
      ['pack', ['one', 'two']],
      ['copy', ['two']],
      ['compare', ['two']],
    ]);
  });

  it('are recorded with real path and checksum, and no version where no rule tells how to ask', async () => {
    const { folder, places } = bench({ tool: 'exit 3' });
    symlinkSync(join(folder, 'tool'), join(folder, 'alias'));
    const find = () => ({ ok: true, value: join(folder, 'alias') }) as const;
    const [probe] = await findPrograms(command('alias'), { ...places, find });
    expect(probe).toEqual({
      name: 'alias',
      workloads: ['pack'],
      rule: null,
      found: {
        name: 'alias',
        path: realpathSync(join(folder, 'tool')),
        sha256: createHash('sha256')
          .update(readFileSync(join(folder, 'tool')))
          .digest('hex'),
        version: null,
      },
      fault: null,
      oddity: null,
    });
  });

  const asked = (atLeast: string | null = null): ProgramRule =>
    rule({ version: { argv: ['tool', '--version'], pattern: 'tool (\\S+)' }, atLeast });
  const probeOf = async (script: string, wanted: ProgramRule) => {
    const suite = { ...command('tool'), programs: { tool: wanted } };
    const [probe] = await findPrograms(suite, bench({ tool: script }).places);
    return probe;
  };

  it('tell their version on either stream, whatever they end with', async () => {
    const quiet = await probeOf('echo "tool 1.2.3" >&2; exit 7', asked('1.2'));
    expect(quiet).toMatchObject({ found: { version: '1.2.3' }, fault: null, oddity: null });
    const first = await probeOf('echo tool 1.0; echo tool 2.0; echo tool 3.0 >&2', asked());
    expect(first).toMatchObject({ found: { version: '1.0' } });
  });

  it('are asked in the measured environment alone, marked as ours', async () => {
    process.env['HARBOUR_LANE_SECRET'] = 'x';
    const probe = await probeOf(
      'echo "tool [$PATH|$STEADYRIG_AUX|$HARBOUR_LANE_SECRET|$1]"',
      asked(),
    );
    delete process.env['HARBOUR_LANE_SECRET'];
    expect(probe?.found?.version).toBe('[/usr/bin:/bin|1||--version]');
  });

  it('that are too old cannot be used', async () => {
    expect(await probeOf('echo tool 1.9', asked('1.10'))).toMatchObject({
      found: { version: '1.9' },
      fault: 'is version 1.9; at least 1.10 is needed',
    });
  });

  it('that do not tell their version can be used only where any will do', async () => {
    const odd = await probeOf('echo nothing of use', asked());
    expect(odd).toMatchObject({ found: { version: null }, fault: null });
    expect(odd?.oddity).toContain('did not tell its version: `tool --version`');
    const needed = await probeOf('echo nothing of use', asked('1'));
    expect(needed?.fault).toMatch(/^did not tell its version.*; at least 1 is needed$/);
    const unclear = await probeOf('echo tool newest', asked('1'));
    expect(unclear?.fault).toBe('is version newest; at least 1 is needed');
  });

  it('that print without end are cut off', async () => {
    const probe = await probeOf('echo tool 4.5; exec cat /dev/zero', asked());
    expect(probe).toMatchObject({ found: { version: '4.5' } });
  });

  it('that leave others behind with their output open hold nobody up', async () => {
    const probe = await probeOf('sleep 1000 & echo tool 4.6', asked());
    expect(probe).toMatchObject({ found: { version: '4.6' } });
  });

  it('may have another program tell their version', async () => {
    const wanted = rule({ version: { argv: ['teller', 'tool'], pattern: '(.*)' } });
    const suite = { ...command('tool'), programs: { tool: wanted } };
    const both = bench({ tool: '', teller: 'echo "$1 8.1"' });
    expect((await findPrograms(suite, both.places))[0]?.found?.version).toBe('tool 8.1');
    const [alone] = await findPrograms(suite, bench({ tool: '' }).places);
    expect(alone).toMatchObject({
      fault: null,
      oddity: expect.stringContaining('teller is not found'),
    });
  });
});

describe('leaving out', () => {
  it('takes the workloads whose programs cannot be used, and keeps the digest', async () => {
    const { places } = bench({ there: '' });
    const workload = (id: string, name: string) =>
      sampleWorkload({ id, program: { kind: 'command', argv: [name] } });
    const suite = sampleSuite({
      workloads: [workload('a', 'gone'), workload('b', 'there'), workload('c', 'gone')],
    });
    const kept = leaveOut(suite, await findPrograms(suite, places));
    expect(kept.suite?.workloads.map(({ id }) => id)).toEqual(['b']);
    expect(kept.suite?.digest).toBe(suite.digest);
    expect(kept.leftOut).toEqual([
      { workload: 'a', reason: 'program gone is not found' },
      { workload: 'c', reason: 'program gone is not found' },
    ]);
    const none = sampleSuite({ workloads: [workload('a', 'gone')] });
    expect(leaveOut(none, await findPrograms(none, places)).suite).toBeNull();
  });
});
