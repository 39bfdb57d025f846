import { describe, expect, it } from 'vitest';
import type { InputProbe, ProgramProbe } from '../../../src/model/preparation.ts';
import type { CheckContext } from '../../../src/preflight/check.ts';
import { checkDisk } from '../../../src/preflight/checks/disk.ts';
import { checkInputs } from '../../../src/preflight/checks/inputs.ts';
import { checkPrograms } from '../../../src/preflight/checks/programs.ts';
import { renderFindings } from '../../../src/report/findings-page.ts';
import { checkContext } from '../../setup/check-context.ts';
import { sampleSuite, sampleWorkload } from '../../setup/samples.ts';

const context = (changes: Partial<CheckContext>): CheckContext =>
  checkContext({
    suite: sampleSuite({ workloads: [sampleWorkload({ id: 'a' }), sampleWorkload({ id: 'b' })] }),
    hasApt: true,
    availableMemoryBytes: null,
    ...changes,
  });

const probe = (name: string, changes: Partial<ProgramProbe>): ProgramProbe => ({
  name,
  workloads: ['a'],
  rule: { version: null, debian: null, elsewhere: null, atLeast: null },
  found: null,
  fault: 'is not found',
  oddity: null,
  ...changes,
});

const debian = (name: string): ProgramProbe['rule'] => ({
  version: null,
  debian: name,
  elsewhere: 'Other systems: look there.',
  atLeast: null,
});

describe('the check of programs', () => {
  it('ends with one command for all that is missing, where Debian has it', () => {
    const programs = [
      probe('zstd', { rule: debian('zstd') }),
      probe('xz', { rule: debian('xz-utils'), workloads: ['a', 'b'] }),
      probe('unxz', { rule: debian('xz-utils') }),
      probe('own', {}),
      probe('fine', { fault: null }),
    ];
    const page = renderFindings(checkPrograms(context({ programs })));
    expect(page.split('\n').slice(-2)).toEqual([
      'To install these packages, as root:',
      '  apt-get install xz-utils zstd',
    ]);
    const text = page.replace(/\s+/g, ' ');
    expect(text).toContain('program xz is not found; needed by a, b; install the package');
    expect(text).toContain('program own is not found; needed by a; install it, or name it');
    expect(page).not.toContain('fine');
    const elsewhere = renderFindings(checkPrograms(context({ programs, hasApt: false })));
    expect(elsewhere).not.toContain('apt-get');
    expect(elsewhere.replace(/\s+/g, ' ')).toContain('Other systems: look there, or pass');
  });

  it('breaks a long command as a shell reads it', () => {
    const names = Array.from({ length: 14 }, (_, index) => `package-of-${index}`);
    const programs = names.map((name) => probe(name, { rule: debian(name) }));
    const page = renderFindings(checkPrograms(context({ programs })));
    expect(page.split('\n').every((line) => line.length <= 80)).toBe(true);
    const command = page.slice(page.indexOf('  apt-get'));
    expect(command.replaceAll('\\\n', ' ').trim().split(/\s+/)).toEqual([
      'apt-get',
      'install',
      ...[...names].sort(),
    ]);
  });

  it('refuses, and with --skip-missing warns as long as anything is left', () => {
    const programs = [probe('xz', {})];
    const severity = (changes: Partial<CheckContext>) =>
      checkPrograms(context({ programs, ...changes })).map((finding) => finding.severity);
    expect(severity({})).toEqual(['refuse']);
    expect(severity({ skipMissing: true })).toEqual(['warn']);
    const all = [probe('xz', { workloads: ['a', 'b'] })];
    expect(severity({ skipMissing: true, programs: all })).toEqual(['refuse']);
  });

  it('warns of a program that does not tell its version', () => {
    const programs = [probe('xz', { fault: null, oddity: 'did not tell' })];
    expect(checkPrograms(context({ programs }))).toMatchObject([
      { severity: 'warn', message: 'program xz did not tell' },
    ]);
  });
});

describe('the check of inputs', () => {
  const file: InputProbe = {
    workload: 'a',
    name: 'parts',
    input: { kind: 'file', path: 'parts.csv', sha256: null },
    file: null,
    cachePath: null,
    cached: false,
    fault: null,
  };
  const generated: InputProbe = {
    ...file,
    input: { kind: 'generated', content: 'text', sizeBytes: 3 * 2 ** 29, seed: 7, sha256: null },
    cachePath: '/no/such/cache/text',
  };

  it('refuses what cannot be used', () => {
    const inputs = [{ ...file, fault: 'is not there' }];
    expect(checkInputs(context({ inputs }))).toMatchObject([
      { severity: 'refuse', workload: 'a', message: 'input parts.csv is not there' },
    ]);
  });

  it('tells what a sitting would make first, and whether it is in the cache', () => {
    const inputs = [file, generated, { ...generated, workload: 'b', cached: true }];
    expect(checkInputs(context({ inputs }))).toEqual([]);
    const told = checkInputs(context({ inputs, tellsPreparation: true }));
    expect(told).toMatchObject([
      { severity: 'note', workload: 'a' },
      { severity: 'note', workload: 'b' },
    ]);
    expect(told[0]?.message).toContain('1.5 GiB of generated text, seed 7) is made when');
    expect(told[1]?.message).toContain('is in the cache');
  });

  it('wants room in the cache for what is to be generated, each input once', async () => {
    const huge = { ...generated.input, sizeBytes: 2 ** 60 } as InputProbe['input'];
    const inputs = [
      { ...generated, input: huge },
      { ...generated, input: huge, workload: 'b' },
    ];
    expect(await checkDisk(context({ inputs }))).toMatchObject([
      { severity: 'refuse', message: expect.stringContaining(`${2 ** 40} MiB of inputs`) },
    ]);
    expect(
      await checkDisk(context({ inputs: inputs.map((one) => ({ ...one, cached: true })) })),
    ).toEqual([]);
  });
});
