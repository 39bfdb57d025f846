import type { HistorySeries } from '../../model/history.ts';

/** The places of a chart that fit its width, the newest, and where each stands. */
export interface TimeAxis {
  /** First place that is shown. */
  readonly from: number;
  readonly width: number;
  /** Column of a place, from 0. */
  readonly column: (place: number) => number;
}

/** Equal steps from sitting to sitting: weeks without one would push the others together. */
export function timeAxis(sittings: number, width: number): TimeAxis {
  const from = Math.max(0, sittings - width);
  const shown = sittings - from;
  const step = Math.max(1, Math.min(4, Math.floor((width - 1) / Math.max(1, shown - 1))));
  return { from, width: (shown - 1) * step + 1, column: (place) => (place - from) * step };
}

/** Lowest and highest value that is drawn, base unit: points and limits, and some room where all are equal. */
export function valueRange({ points, limits }: HistorySeries): readonly [number, number] {
  const values = [
    ...points.map(({ mean }) => mean),
    ...(limits === null ? [] : [limits.low, limits.high]),
  ];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = low === high ? Math.abs(low) * 0.01 || 1 : 0;
  return [low - room, high + room];
}
