import type { Axis, Mark, Scale } from 'vega';
import type { Look } from './looks.ts';

export interface RatioRow {
  readonly key: string;
  readonly label: string;
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Beside the plot. */
  readonly text: string;
  readonly isBaseline: boolean;
}

/** Half a decade of ratios at the most: one odd row would flatten all others. */
const furthest = 4;

/** Logarithmic, symmetric about 1. */
export function ratioDomain(rows: readonly RatioRow[], matters: number): readonly [number, number] {
  const bounds = rows.flatMap(({ ratio, low, high }) => [ratio, low, high]);
  const sizes = bounds.flatMap((one) =>
    one !== null && one > 0 && Number.isFinite(one) ? [Math.max(one, 1 / one)] : [],
  );
  const reach = Math.min(furthest, Math.max((1 + matters) ** 2, ...sizes) ** 1.08);
  return [1 / reach, reach];
}

/** Round ratios within a domain, with 1 among them. */
function ratioTicks([, reach]: readonly [number, number]): readonly number[] {
  const step =
    [0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1].find((one) => (reach - 1) / one <= 3.5) ?? 1;
  const ticks: number[] = [];
  for (let ratio = 1; ratio <= reach; ratio += step) ticks.push(ratio);
  for (let ratio = 1 - step; ratio >= 1 / reach && ratio > 0; ratio -= step) ticks.push(ratio);
  return ticks.map((ratio) => Number(ratio.toFixed(4))).sort((a, b) => a - b);
}

export function ratioScales(rows: readonly RatioRow[], domain: readonly [number, number]): Scale[] {
  return [
    { name: 'x', type: 'log', domain: [...domain], range: 'width', zero: false, clamp: true },
    { name: 'y', type: 'band', domain: rows.map(({ key }) => key), range: 'height' },
  ];
}

export function ratioAxes(domain: readonly [number, number], title: string): Axis[] {
  return [
    {
      orient: 'top',
      scale: 'x',
      values: [...ratioTicks(domain)],
      format: '~r',
      title,
      titleAnchor: 'end',
      grid: true,
      zindex: 0,
    },
  ];
}

/** Dots with intervals, the line at 1, the band of what does not matter, a label before and the numbers behind. */
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
      type: 'rule',
      from: { data: 'known' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'low' },
          x2: { scale: 'x', field: 'high' },
          y: middle,
          stroke: { value: look.ink },
          strokeWidth: { value: fontSize / 9 },
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
          size: { value: fontSize * fontSize * 0.4 },
          fill: [{ test: 'datum.isBaseline', value: look.quiet }, { value: look.mean }],
        },
      },
    },
    label('label', { value: -fontSize * 0.6 }, 'right', middle),
    label('text', { field: { group: 'width' }, offset: fontSize * 0.6 }, 'left', middle),
  ];
}

function label(
  field: 'label' | 'text',
  x: object,
  align: 'left' | 'right',
  y: { readonly scale: 'y'; readonly field: 'key'; readonly band: 0.5 },
): Mark {
  return {
    type: 'text',
    from: { data: 'rows' },
    encode: {
      enter: {
        x,
        y,
        text: { field },
        align: { value: align },
        baseline: { value: 'middle' },
      },
    },
  };
}

/** `rows`, those with a ratio, and those with an interval. */
export function ratioData(rows: readonly RatioRow[]): { name: string; values: RatioRow[] }[] {
  const told = rows.filter(({ ratio }) => ratio !== null && ratio > 0);
  return [
    { name: 'rows', values: [...rows] },
    { name: 'told', values: told },
    {
      name: 'known',
      values: told.filter(({ low, high }) => low !== null && high !== null && low > 0),
    },
  ];
}
