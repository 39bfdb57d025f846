/** Places on a strip, in percent of its width. */
export interface StripScale {
  readonly place: (value: number) => number;
  readonly ticks: readonly { readonly at: number; readonly text: string }[];
}

/** From zero, with some room beyond the largest value; about four ticks at round numbers. */
export function zeroScale(values: readonly number[], factor: number): StripScale {
  const largest = Math.max(...values.map((value) => value / factor), 0);
  const smallest = Math.min(...values.map((value) => value / factor), 0);
  const span = largest - smallest || 1;
  const step = roundStep(span / 4);
  const from = Math.floor(smallest / step) * step;
  const to = Math.max(largest, from + step) + span * 0.02;
  const place = (value: number): number => ((value / factor - from) / (to - from)) * 100;
  const ticks: { at: number; text: string }[] = [];
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  for (let at = from; at <= to; at += step)
    ticks.push({
      at: place(at * factor),
      text: (Math.abs(at) < step / 2 ? 0 : at).toFixed(decimals),
    });
  return { place, ticks };
}

/** 1, 2 or 5 times a power of ten. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const times = [1, 2, 5, 10].find((one) => one * power >= least) ?? 10;
  return times * power;
}

export interface RatioScale extends StripScale {
  /** Natural logarithm of the ratio at the right end; the left end is its negative. */
  readonly reach: number;
  /** Something lies beyond the ends. */
  readonly isCut: boolean;
}

/** Further out is drawn as an arrow at the edge, or one odd row would flatten all others. */
const furthest = Math.log(4);

/** Logarithmic and symmetric about 1, for all ratios of a report together: twice as good is as far from 1 as half as good. */
export function ratioScale(
  rows: readonly {
    readonly ratio: number | null;
    readonly low: number | null;
    readonly high: number | null;
  }[],
  matters: number,
): RatioScale {
  let reach = Math.log1p(matters) * 3;
  for (const { ratio, low, high } of rows)
    for (const bound of [ratio, low, high])
      if (bound !== null && bound > 0 && Number.isFinite(bound))
        reach = Math.max(reach, Math.abs(Math.log(bound)));
  const isCut = reach >= furthest;
  reach = Math.min(furthest, reach * 1.06);
  const place = (ratio: number): number =>
    50 + 50 * Math.max(-1, Math.min(1, (ratio > 0 ? Math.log(ratio) : -Infinity) / reach));
  return {
    reach,
    isCut,
    place,
    ticks: ratioTicks(reach).map((ratio) => ({ at: place(ratio), text: String(ratio) })),
  };
}

const ladders: readonly (readonly number[])[] = [
  [0.25, 0.5, 1, 2, 4],
  [0.5, 0.7, 1, 1.4, 2],
  [0.7, 0.85, 1, 1.2, 1.4],
  [0.8, 0.9, 1, 1.1, 1.2],
  [0.9, 0.95, 1, 1.05, 1.1],
  [0.96, 0.98, 1, 1.02, 1.04],
  [0.98, 0.99, 1, 1.01, 1.02],
  [0.99, 0.995, 1, 1.005, 1.01],
];

/** The finest ladder of round ratios that still fills more than half of the axis. */
function ratioTicks(reach: number): readonly number[] {
  const fits = ladders.filter((ladder) => Math.log(ladder[4] ?? 1) <= reach * 1.001);
  return fits[0] ?? [1];
}
