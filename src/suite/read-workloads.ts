import type { ShippedCatalog } from '../model/shipped.ts';
import { type Amounts, fillAmounts } from './amounts.ts';
import { checkWorkload } from './check-workload.ts';
import { type Fault, faultsOf } from './describe-issue.ts';
import { workloadSchema } from './workload-schema.ts';
import type { WrittenWorkload } from './written.ts';

export interface ReadWorkloads {
  /** Those without a fault in their shape, by their place in the list. */
  readonly workloads: ReadonlyMap<number, WrittenWorkload>;
  readonly faults: readonly Fault[];
  readonly usedAmounts: ReadonlySet<string>;
}

/** Each workload by itself, so that one with a fault does not hide those of the others. */
export function readWorkloads(
  written: readonly unknown[],
  amounts: Amounts,
  catalog: ShippedCatalog,
): ReadWorkloads {
  const schema = workloadSchema(catalog);
  const workloads = new Map<number, WrittenWorkload>();
  const faults: Fault[] = [];
  const usedAmounts = new Set<string>();
  for (const [index, item] of written.entries()) {
    const base = ['workloads', index];
    const filled = fillAmounts(item, amounts, base);
    for (const name of filled.used) usedAmounts.add(name);
    faults.push(...filled.faults);
    const parsed = schema.safeParse(filled.value);
    if (parsed.success) {
      workloads.set(index, parsed.data);
      for (const fault of checkWorkload(parsed.data))
        faults.push({ ...fault, path: [...base, ...fault.path] });
    } else {
      const { value } = filled;
      const found = faultsOf(parsed.error.issues, { workloads: { [index]: value } }, base);
      faults.push(...found.filter(({ path }) => !filled.unknown.has(JSON.stringify(path))));
    }
  }
  return { workloads, faults: [...faults, ...checkIds(written)], usedAmounts };
}

function checkIds(written: readonly unknown[]): readonly Fault[] {
  const seen = new Map<string, number>();
  return written.flatMap((item, index): Fault[] => {
    const id = idOf(item);
    if (typeof id !== 'string') return [];
    const first = seen.get(id);
    if (first === undefined) seen.set(id, index);
    if (first === undefined) return [];
    const message = `\`id\` is \`${id.slice(0, 64)}\`, as of workload ${first + 1}; expected each to have its own`;
    return [{ path: ['workloads', index, 'id'], at: 'value', message }];
  });
}

function idOf(item: unknown): unknown {
  return typeof item === 'object' && item !== null && 'id' in item ? item.id : undefined;
}
