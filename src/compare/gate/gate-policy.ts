import type { GateFinding, GateRow, WhenUnsure } from '../../model/gate.ts';
import { gravest } from './decide-gate.ts';

export interface GateState {
  readonly rows: readonly GateRow[];
  /** Figures, by `figureKey`, that were suspected before the newest sittings were measured. */
  readonly suspected: ReadonlySet<string>;
  readonly policy: WhenUnsure;
}

export function figureKey({ workload, metric }: Pick<GateRow, 'workload' | 'metric'>): string {
  return `${workload}\n${metric}`;
}

/** Figures that are worse, or seem so: at least what is allowed, shown or not. They are measured again before they fail. */
export function suspects(rows: readonly GateRow[]): readonly string[] {
  const seemsWorse = ({ finding, ratio, allowed }: GateRow): boolean =>
    finding === 'worse' || (finding === 'unsure' && (ratio ?? 1) <= 1 / (1 + allowed));
  return rows.filter(seemsWorse).map(figureKey);
}

/** False where further sittings are wanted. */
export function isSettled({ rows, suspected, policy }: GateState): boolean {
  if (rows.some((row) => row.finding === 'uncompared' || isShownAgain(row, suspected))) return true;
  if (suspects(rows).some((key) => !suspected.has(key))) return false;
  return policy !== 'measure-more' || rows.every(({ finding }) => finding !== 'unsure');
}

function isShownAgain(row: GateRow, suspected: ReadonlySet<string>): boolean {
  return row.finding === 'worse' && suspected.has(figureKey(row));
}

export interface Settled {
  readonly rows: readonly GateRow[];
  readonly finding: GateFinding;
  readonly passes: boolean;
}

/** What is said in the end: worse that nobody measured again is not shown, and what cannot be told passes unless it is to fail. */
export function settle({ rows, suspected, policy }: GateState): Settled {
  const told = rows.map(
    (row): GateRow =>
      row.finding === 'worse' && !isShownAgain(row, suspected)
        ? {
            ...row,
            finding: 'unsure',
            text: `${row.text}; not measured again, since no time or no sittings were left`,
          }
        : row,
  );
  const finding = gravest(told);
  const fails =
    finding === 'worse' || finding === 'uncompared' || (finding === 'unsure' && policy === 'fail');
  return { rows: told, finding, passes: !fails };
}
