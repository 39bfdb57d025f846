import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Workload } from '../../../src/model/suite.ts';
import type { CheckContext } from '../../../src/preflight/check.ts';
import { checkPageCache } from '../../../src/preflight/checks/page-cache.ts';
import { isRefused, runChecks } from '../../../src/preflight/run-checks.ts';
import { checkContext } from '../../setup/check-context.ts';
import { sampleSuite, sampleWorkload } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

function context(workload: Partial<Workload>, changes: Partial<CheckContext> = {}): CheckContext {
  const folder = temporaryFolder();
  return checkContext({
    suite: sampleSuite({ workloads: [sampleWorkload(workload)] }),
    cache: join(folder, 'cache'),
    cpus: [0, 1],
    results: join(folder, 'not', 'yet', 'there'),
    scratch: folder,
    ...changes,
  });
}

async function refusals(given: CheckContext): Promise<string[]> {
  const findings = await runChecks(given);
  return findings
    .filter(({ severity }) => severity === 'refuse')
    .map(({ check, message }) => `${check}: ${message}`);
}

const command = (...argv: [string, ...string[]]): Partial<Workload> => ({
  program: { kind: 'command', argv },
});

describe('the checks of the rig', () => {
  it('have nothing against a fit rig', async () => {
    const findings = await runChecks(context(command('sh', '-c', ':')));
    expect(isRefused(findings)).toBe(false);
  });

  it('refuse CPUs that this process may not use and priorities only root may set', async () => {
    expect(await refusals(context({ affinity: [1, 2] }))).toEqual([
      expect.stringContaining('asks for CPU 2'),
    ]);
    expect(await refusals(context({ affinity: [1] }))).toEqual([]);
    expect(await refusals(context({ affinity: [7] }, { cpus: null }))).toEqual([]);
    expect(await refusals(context({ priority: -5 }))).toEqual([
      expect.stringContaining('only root'),
    ]);
    expect(await refusals(context({ priority: -5 }, { isRoot: true }))).toEqual([]);
    expect(await refusals(context({ affinity: [0] }, { platform: 'darwin' }))).toHaveLength(1);
  });

  it('refuse readings that the portable meter does not have, and warn of it otherwise', async () => {
    const source = { kind: 'accounting', reading: 'peak-memory', step: null } as const;
    const memory = { metrics: [{ id: 'm', source, unit: 'By', better: 'lower' }] } as const;
    const portable = { meter: 'portable', meterWhy: 'no koffi here' } as const;
    expect(await refusals(context(memory, portable))).toEqual([
      expect.stringContaining('no koffi here'),
    ]);
    expect(await refusals(context(memory))).toEqual([]);
    const findings = await runChecks(context({}, portable));
    expect(findings).toMatchObject([{ check: 'meter', severity: 'warn' }]);
  });

  it('refuse a disk on which one run could fill what is left', async () => {
    const limits = { timeSeconds: 1, outputBytes: 2 ** 60 };
    expect(await refusals(context({ limits }))).toEqual([
      expect.stringContaining('free for results'),
      expect.stringContaining('free for scratch files'),
    ]);
  });

  it('warn when little memory is left', async () => {
    const findings = await runChecks(context({}, { availableMemoryBytes: 2 ** 28 }));
    expect(findings).toMatchObject([
      { check: 'memory', severity: 'warn', message: '256 MiB of memory are available' },
    ]);
  });

  it('refuse a cold page cache where the kernel does not let it be emptied', async () => {
    const cold = context({ ...command('true'), pageCache: 'cold' });
    expect(await checkPageCache(cold, '/proc/version')).toMatchObject(
      process.getuid?.() === 0 ? [] : [{ check: 'page-cache', severity: 'refuse' }],
    );
    expect(await checkPageCache(cold, '/no/such/switch')).toMatchObject([
      {
        check: 'page-cache',
        severity: 'refuse',
        workload: 'pack',
        message: expect.stringContaining('this kernel does not offer it'),
      },
    ]);
    expect(await checkPageCache({ ...cold, platform: 'darwin' })).toHaveLength(1);
    const warm = context({ ...command('true'), pageCache: 'warm' });
    expect(await checkPageCache(warm, '/no/such/switch')).toEqual([]);
  });
});
