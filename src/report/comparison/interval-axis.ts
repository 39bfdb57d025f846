/** A logarithmic axis of ratios that all rows of a page share: 2 times better is as far from 1 as 2 times worse. */
export interface Axis {
  /** Natural logarithm of the ratio at the right end; the left end is its negative. */
  readonly reach: number;
  /** Natural logarithm of 1 + the difference that matters. */
  readonly matters: number;
  /** Characters. */
  readonly width: number;
}

/** Further out is drawn as an arrow at the edge, or one odd row would flatten all others. */
const furthest = Math.log(4);

/** An axis, symmetric about 1, that holds the intervals and the difference that matters. */
export function makeAxis(
  rows: readonly { readonly low: number | null; readonly high: number | null }[],
  matters: number,
  width: number,
): Axis {
  let reach = Math.log1p(matters) * 2;
  for (const { low, high } of rows) {
    if (low === null || high === null) continue;
    reach = Math.max(reach, low > 0 ? Math.abs(Math.log(low)) : furthest, Math.abs(Math.log(high)));
  }
  return { reach: Math.min(furthest, reach * 1.02), matters: Math.log1p(matters), width };
}

/** Place of a ratio, not yet held within the axis. */
function place({ reach, width }: Axis, ratio: number): number {
  const share = (Math.log(ratio) / reach + 1) / 2;
  return Math.round(share * (width - 1));
}

/**
 * An interval to scale: `├──●──┤`, `│` at 1, `:` at both ends of the difference that matters, `◂` and `▸` where it goes on beyond the
 * axis. Without an interval only the point; without a ratio only the marks.
 */
export function renderInterval(
  axis: Axis,
  row: {
    readonly ratio: number | null;
    readonly low: number | null;
    readonly high: number | null;
  },
): string {
  const cells = new Array<string>(axis.width).fill(' ');
  const last = axis.width - 1;
  const held = (at: number): number => Math.min(last, Math.max(0, at));
  for (const edge of [-axis.matters, axis.matters]) cells[held(place(axis, Math.exp(edge)))] = ':';
  cells[place(axis, 1)] = '│';
  if (row.low !== null && row.high !== null) {
    const low = row.low > 0 ? place(axis, row.low) : -1;
    const high = Number.isFinite(row.high) ? place(axis, row.high) : last + 1;
    for (let at = held(low); at <= held(high); at += 1) cells[at] = cells[at] === '│' ? '┼' : '─';
    cells[held(low)] = low < 0 ? '◂' : '├';
    cells[held(high)] = high > last ? '▸' : '┤';
  }
  if (row.ratio !== null && row.ratio > 0) {
    const at = place(axis, row.ratio);
    cells[held(at)] = at < 0 ? '◂' : at > last ? '▸' : '●';
  }
  return cells.join('').trimEnd();
}

/** What stands at both ends and at 1: `0.900        1        1.11`. */
export function renderScale({ reach, width }: Axis): string {
  const left = Math.exp(-reach).toPrecision(3);
  const right = Math.exp(reach).toPrecision(3);
  const middle = Math.round((width - 1) / 2);
  return `${left.padEnd(middle)}1${right.padStart(width - middle - 1)}`;
}
