import { suggest } from '../lib/suggest.ts';
import type { UnitCode } from '../model/unit.ts';
import { amountsSchema } from './amount-schema.ts';
import type { Fault } from './describe-issue.ts';
import type { Path } from './place.ts';
import { parseWork } from './unit-text.ts';
import { valid } from './valid.ts';

/** An amount by its name: as written; null where what is written is none, which is a fault of its own. */
export type Amounts = ReadonlyMap<string, number | string | null>;

export interface Substituted {
  readonly value: unknown;
  readonly faults: readonly Fault[];
  /** Names of the amounts that stand somewhere. */
  readonly used: ReadonlySet<string>;
  /** Paths (as JSON) of what could not be replaced: whatever else is wrong there follows from that. */
  readonly unknown: ReadonlySet<string>;
}

/** Amounts that can be used, from a map that may hold others. */
export function amountsOf(written: unknown): Amounts {
  if (typeof written !== 'object' || written === null) return new Map();
  const entries = Object.entries(written).map(
    ([name, amount]): [string, number | string | null] => [
      name,
      amountsSchema.safeParse({ [name]: amount }).success ? (amount as number | string) : null,
    ],
  );
  return new Map(entries);
}

/** In base units, and what it counts: null for a plain number. */
export function measureAmount(written: number | string): {
  readonly amount: number;
  readonly unit: UnitCode | null;
} {
  if (typeof written === 'number') return { amount: written, unit: null };
  const { amount, code } = valid(parseWork(written));
  return { amount, unit: code };
}

/** Keys whose value an amount may be; `parameters` has such keys. */
const amountKeys = new Set(['size', 'work']);
const whole = /^\{amount:([^{}]*)\}$/;
const within = /\{amount:([^{}]*)\}/g;

/**
 * A workload with its amounts filled in: what is written under the name where `{amount:NAME}` is a whole value, the
 * plain number in base units within arguments and variables.
 */
export function fillAmounts(workload: unknown, amounts: Amounts, base: Path): Substituted {
  const filling = new Filling(amounts);
  const value = filling.fill(workload, base);
  const { faults, used, unknown } = filling;
  return { value, faults, used, unknown };
}

class Filling {
  readonly faults: Fault[] = [];
  readonly used = new Set<string>();
  readonly unknown = new Set<string>();
  readonly #amounts: Amounts;

  constructor(amounts: Amounts) {
    this.#amounts = amounts;
  }

  fill(value: unknown, path: Path): unknown {
    if (Array.isArray(value)) return value.map((item, index) => this.fill(item, [...path, index]));
    if (typeof value === 'object' && value !== null) {
      const entries = Object.entries(value).map(([key, item]) => [
        key,
        this.fill(item, [...path, key]),
      ]);
      return Object.assign(Object.create(null), Object.fromEntries(entries));
    }
    return typeof value === 'string' ? this.#text(value, path) : value;
  }

  #text(text: string, path: Path): unknown {
    const [above, key] = path.slice(-2);
    if (above === 'argv' || above === 'environment')
      return text.replace(within, (placeholder, name: string) => {
        const amount = this.#amount(name, path);
        return amount === null ? placeholder : String(measureAmount(amount).amount);
      });
    const name = whole.exec(text)?.[1];
    const isPlace = above === 'parameters' || amountKeys.has(String(key));
    if (name === undefined || !isPlace) return text;
    return this.#amount(name, path) ?? text;
  }

  #amount(name: string, path: Path): number | string | null {
    this.used.add(name);
    const amount = this.#amounts.get(name);
    if (amount !== undefined && amount !== null) return amount;
    this.unknown.add(JSON.stringify(path));
    if (amount === undefined) {
      const message = unknownAmount(name, [...this.#amounts.keys()]);
      this.faults.push({ path, at: 'value', message });
    }
    return null;
  }
}

function unknownAmount(name: string, names: readonly string[]): string {
  const near = suggest(name, names);
  const hint =
    near === null ? 'expected a name given under `amounts`' : `did you mean \`${near}\`?`;
  return `\`{amount:${name}}\` names no amount of this suite; ${hint}`;
}
