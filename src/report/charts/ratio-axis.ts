import type { Axis, Scale } from 'vega';

interface Interval {
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

export type Domain = readonly [low: number, high: number];

/** Beyond it nothing is drawn but an arrow: one odd row would flatten all others. */
const furthest = 32;
/** Intervals may be wider than the axis is long by so much, and are cut then, with an arrow. */
const widest = 4;

/** Logarithmic; holds 1, what does not matter on both sides, every ratio, and intervals as far as they leave the others to be seen. */
export function ratioDomain(rows: readonly Interval[], matters: number): Domain {
  const sane = (one: number | null): one is number =>
    one !== null && one > 0 && Number.isFinite(one);
  const dots = rows.map(({ ratio }) => ratio).filter(sane);
  const band = (1 + matters) ** 1.5;
  const near: Domain = [Math.min(1 / band, ...dots), Math.max(band, ...dots)];
  const bounds = rows.flatMap(({ low, high }) => [low, high]).filter(sane);
  const low = Math.max(near[0] / widest, Math.min(near[0], ...bounds), 1 / furthest);
  const high = Math.min(near[1] * widest, Math.max(near[1], ...bounds), furthest);
  const room = (high / low) ** 0.04;
  return [low / room, high * room];
}

const steps = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2];
const doubles = [1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 8, 16, 32];

/** Round ratios within a domain, with 1 among them. */
function ratioTicks([low, high]: Domain): readonly number[] {
  const within = (ratio: number): boolean => ratio >= low && ratio <= high;
  if (high / low > 4) return doubles.filter(within);
  const step = steps.find((one) => (high - low) / one <= 7) ?? 0.5;
  const ticks: number[] = [];
  for (let at = Math.ceil((low - 1) / step); 1 + at * step <= high; at += 1)
    ticks.push(Number((1 + at * step).toFixed(4)));
  return ticks.filter(within);
}

export function ratioScale(domain: Domain): Scale {
  return { name: 'x', type: 'log', domain: [...domain], range: 'width', zero: false, clamp: true };
}

export function ratioAxes(domain: Domain, title: string): Axis[] {
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
