import type { PrivateLiteral } from '../../lib/scrub-text.ts';
import type { Metric, Workload } from '../../model/suite.ts';
import type { Ledger } from '../ledger.ts';
import type { Operator } from './operator.ts';
import { parseFigure } from './parse-figure.ts';

/** What questions to the operator need to know. */
export interface Desk {
  readonly operator: Operator;
  /** Aborted when the sitting is to end: then nothing more is asked. */
  readonly signal: AbortSignal;
  readonly ledger: Ledger;
  readonly workloads: ReadonlyMap<string, Workload>;
  /** Why a figure is unusual beside earlier ones of its kind, as a clause; null when it is not. */
  readonly whyUnusual: (metric: Metric, value: number, earlier: readonly number[]) => string | null;
  readonly now: () => Date;
  readonly literals: readonly PrivateLiteral[];
}

export type Answer =
  /** Base unit. `confirmed`: it was unusual, and the operator kept it. */
  | { readonly kind: 'figure'; readonly value: number; readonly confirmed: boolean }
  | { readonly kind: 'skip' }
  | { readonly kind: 'correct' }
  | { readonly kind: 'stop' };

/** Asks until a figure passes every check, or the operator wants something else. */
export async function askFigure(
  prompt: string,
  metric: Metric,
  earlier: readonly number[],
  { operator, signal, whyUnusual }: Desk,
): Promise<Answer> {
  for (;;) {
    const line = await operator.ask(prompt, signal);
    if (signal.aborted) return { kind: 'stop' };
    const word = line === null ? 'skip' : line.trim().toLowerCase();
    if (word === 'skip' || word === 'correct') return { kind: word };
    const figure = parseFigure(line ?? '', metric);
    if (!figure.ok) {
      operator.tell(figure.error);
      continue;
    }
    const unusual = whyUnusual(metric, figure.value, earlier);
    if (unusual === null) return { kind: 'figure', value: figure.value, confirmed: false };
    const keep = await operator.ask(`${unusual}: keep it? [y/N] `, signal);
    if (signal.aborted) return { kind: 'stop' };
    if (/^\s*y(es)?\s*$/i.test(keep ?? '')) {
      return { kind: 'figure', value: figure.value, confirmed: true };
    }
  }
}

/** `score (points, higher is better): `. */
export function figurePrompt({ id, source, better }: Metric): string {
  const symbol = source.kind === 'operator' && source.symbol !== '1' ? `${source.symbol}, ` : '';
  return `${id} (${symbol}${better} is better): `;
}
