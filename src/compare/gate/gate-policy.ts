import type { GateFinding, GateRow, WhenUnsure } from '../../model/gate.ts';

/** Whatever seems worse is measured again before it fails: sittings of the candidate that a failure needs. */
const leastToFail = 2;

export interface GateState {
  /** The gravest of the rows. */
  readonly finding: GateFinding;
  readonly rows: readonly Pick<GateRow, 'finding' | 'ratio' | 'allowed'>[];
  /** Sittings of the candidate so far. */
  readonly candidates: number;
  readonly policy: WhenUnsure;
}

/** False where one more sitting is wanted. */
export function isSettled({ finding, rows, candidates, policy }: GateState): boolean {
  if (finding === 'worse') return candidates >= leastToFail;
  const seemsWorse = rows.some(
    (row) => row.finding === 'unsure' && (row.ratio ?? 1) <= 1 / (1 + row.allowed),
  );
  if (seemsWorse && candidates < leastToFail) return false;
  return finding !== 'unsure' || policy !== 'measure-more';
}

/** What is said in the end: worse in a single sitting is not shown, and what cannot be told passes unless it is to fail. */
export function settle({ finding, candidates, policy }: GateState): {
  readonly finding: GateFinding;
  readonly passes: boolean;
} {
  const told = finding === 'worse' && candidates < leastToFail ? 'unsure' : finding;
  const fails =
    told === 'worse' || told === 'uncompared' || (told === 'unsure' && policy === 'fail');
  return { finding: told, passes: !fails };
}
