import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { cpusOf } from '../../../src/rig/parse.ts';
import { takeInventory } from '../../../src/rig/take-inventory.ts';
import { needs } from '../../setup/needs.ts';
import { inventoryOf, rigNames, rigRoot, valueAt } from './rigs.ts';

// util-linux reads the same files with its own code, also below another root: lscpu(1), --sysroot.
const lscpu = needs.program('lscpu');

function ask(...options: string[]): Record<string, string>[] {
  const text = execFileSync(lscpu.path, [...options, '--json'], {
    encoding: 'utf8',
    env: { LC_ALL: 'C' },
  });
  const answer: Record<string, unknown> = JSON.parse(text);
  return Object.values(answer).flat() as Record<string, string>[];
}

function fieldsOf(root: string): ReadonlyMap<string, string> {
  const rows = ask('--sysroot', root).map(
    (row) => [row['field'] ?? '', row['data'] ?? ''] as const,
  );
  return new Map(rows);
}

describe.skipIf(lscpu.missing)('what lscpu reads from the same files', () => {
  it.each(rigNames)('is the same processor (%s)', async (name) => {
    const inventory = await inventoryOf(name);
    const fields = fieldsOf(rigRoot(name));
    const text = (path: string) => String(valueAt(inventory, path));
    expect(fields.get('Model name:')).toBe(text('cpu.model'));
    expect(fields.get('Vendor ID:')).toBe(text('cpu.vendor'));
    expect(fields.get('CPU family:')).toBe(text('cpu.family'));
    expect(fields.get('Model:')).toBe(text('cpu.modelNumber'));
    expect(fields.get('Stepping:')).toBe(text('cpu.stepping'));
    expect(fields.get('CPU(s):')).toBe(text('cpu.threads'));
    expect(fields.get('Socket(s):')).toBe(text('cpu.sockets'));
    expect(Number(fields.get('Core(s) per socket:')) * Number(fields.get('Socket(s):'))).toBe(
      valueAt(inventory, 'cpu.cores'),
    );
    expect(fields.get('NUMA node(s):')).toBe(text('topology.nodesFound'));
    expect(Number(fields.get('CPU max MHz:')) * 1e6).toBe(
      valueAt(inventory, 'frequency.policies.0.hardwareMax'),
    );
  });

  it.each(rigNames)('has the same caches (%s)', async (name) => {
    const inventory = await inventoryOf(name);
    const expected = Object.fromEntries(
      ask('--sysroot', rigRoot(name), '--bytes', '--caches').map((row) => [
        row['name'],
        Number(row['all-size']),
      ]),
    );
    const totals: Record<string, number> = {};
    for (const cache of inventory.sections['cpu']?.items['caches'] ?? []) {
      const type = String(cache['type']?.value);
      const label = `L${cache['level']?.value}${type === 'unified' ? '' : type[0]}`;
      const size = Number(cache['size']?.value) * Number(cache['instances']?.value);
      totals[label] = (totals[label] ?? 0) + size;
    }
    expect(totals).toEqual(expected);
  });

  it.skipIf(process.platform !== 'linux')('is this machine', async () => {
    const inventory = await takeInventory({
      root: '/',
      now: () => new Date(),
      versions: {},
      systemInformation: false,
      collectorLimitSeconds: 60,
    });
    const fields = fieldsOf('/');
    // lscpu writes two neighbours as a pair, the kernel as a range.
    expect(cpusOf(String(valueAt(inventory, 'topology.onlineCpus')))).toEqual(
      cpusOf(fields.get('On-line CPU(s) list:') ?? ''),
    );
    expect(valueAt(inventory, 'virtualization.hypervisor')).toBe(
      fields.has('Hypervisor vendor:') || (fields.get('Flags:') ?? '').includes('hypervisor'),
    );
  });
});
