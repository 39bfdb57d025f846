import type { Data, Mark } from 'vega';
import { intervalData, intervalMarks } from './interval-marks.ts';
import type { Look } from './looks.ts';
import type { Domain } from './ratio-axis.ts';
import type { TextRow } from './row-layout.ts';

export interface RatioRow extends TextRow {
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** `open`: nothing is shown; `baseline`: 1 by definition. */
  readonly dot: 'full' | 'open' | 'baseline';
}

/** Dots with intervals over the line at 1 and the band of what does not matter. */
export function ratioMarks(look: Look, matters: number, fontSize: number): Mark[] {
  const middle = { scale: 'y', field: 'key', band: 0.5 } as const;
  return [
    {
      type: 'rect',
      encode: {
        enter: {
          x: { scale: 'x', value: 1 / (1 + matters) },
          x2: { scale: 'x', value: 1 + matters },
          y: { value: 0 },
          y2: { field: { group: 'height' } },
          fill: { value: look.band },
        },
      },
    },
    {
      type: 'rule',
      encode: {
        enter: {
          x: { scale: 'x', value: 1 },
          y: { value: 0 },
          y2: { field: { group: 'height' } },
          stroke: { value: look.quiet },
          strokeDash: { value: [6, 5] },
          strokeWidth: { value: fontSize / 12 },
        },
      },
    },
    {
      type: 'symbol',
      from: { data: 'told' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'ratio' },
          y: middle,
          shape: [{ test: "datum.dot === 'baseline'", value: 'diamond' }, { value: 'circle' }],
          size: { value: fontSize * fontSize * 0.36 },
          fill: [
            { test: "datum.dot === 'full'", value: look.mean },
            { test: "datum.dot === 'baseline'", value: look.quiet },
            // What shows through: the interval within an open dot is seen.
            { value: 'none' },
          ],
          stroke: [{ test: "datum.dot === 'baseline'", value: look.quiet }, { value: look.mean }],
          strokeWidth: { value: fontSize / 12 },
        },
      },
    },
    ...intervalMarks(look, fontSize, { band: 0.5, reach: fontSize * 0.42 }),
  ];
}

/** `rows`, those with a ratio within the domain, and the data of intervals. */
export function ratioData(rows: readonly RatioRow[], domain: Domain): Data[] {
  const [least, most] = domain;
  const told = rows.filter(({ ratio }) => ratio !== null && ratio > 0);
  return [
    { name: 'rows', values: [...rows] },
    {
      name: 'told',
      values: told.filter(({ ratio }) => ratio !== null && ratio >= least && ratio <= most),
    },
    ...intervalData(
      told.map(({ key, ratio, low, high }) => ({ key, at: ratio ?? 1, low, high })),
      domain,
    ),
  ];
}
