import type { Data, Mark } from 'vega';
import type { Look } from './looks.ts';

export interface IntervalRow {
  /** Of its row. */
  readonly key: string;
  /** What it is the interval of. */
  readonly at: number;
  /** Null where there is none. */
  readonly low: number | null;
  readonly high: number | null;
}

/** Data sets of `intervalMarks`: intervals as far as they can be drawn, their ends, and arrows where something lies beyond. */
export function intervalData(
  rows: readonly IntervalRow[],
  [least, most]: readonly [number, number],
): Data[] {
  const known = rows.flatMap(({ key, low, high }) =>
    low === null || high === null || high < least || low > most
      ? []
      : [{ key, low: Math.max(low, least), high: Math.min(high, most) }],
  );
  const ends = rows.flatMap(({ key, low, high }) =>
    low === null || high === null
      ? []
      : [low, high]
          .filter((bound) => bound >= least && bound <= most)
          .map((bound) => ({ key, bound })),
  );
  const beyond = rows.flatMap(({ key, at, low, high }) => [
    ...(Math.min(at, low ?? at) < least ? [{ key, edge: least, shape: 'triangle-left' }] : []),
    ...(Math.max(at, high ?? at) > most ? [{ key, edge: most, shape: 'triangle-right' }] : []),
  ]);
  return [
    { name: 'intervals', values: known },
    { name: 'ends', values: ends },
    { name: 'beyond', values: beyond },
  ];
}

/** Drawn over the dots; with ends higher than these, an interval that is narrower than its dot is seen all the same. */
export function intervalMarks(
  look: Look,
  fontSize: number,
  /** Where in the row, and how far the ends reach up and down. */
  { band, reach }: { readonly band: number; readonly reach: number },
): Mark[] {
  const y = { scale: 'y', field: 'key', band } as const;
  const stroke = { stroke: { value: look.ink }, strokeWidth: { value: fontSize / 11 } };
  return [
    {
      type: 'rule',
      name: 'drawn-intervals',
      from: { data: 'intervals' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'low' },
          x2: { scale: 'x', field: 'high' },
          y,
          ...stroke,
        },
      },
    },
    {
      type: 'rule',
      name: 'drawn-ends',
      from: { data: 'ends' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'bound' },
          y: { ...y, offset: -reach },
          y2: { ...y, offset: reach },
          ...stroke,
        },
      },
    },
    {
      type: 'symbol',
      name: 'drawn-beyond',
      from: { data: 'beyond' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'edge' },
          y,
          shape: { field: 'shape' },
          size: { value: fontSize * fontSize * 0.3 },
          fill: { value: look.ink },
        },
      },
    },
  ];
}
