import type { Mark } from 'vega';
import { intervalMarks } from './interval-marks.ts';
import type { Look } from './looks.ts';

/** Bars from zero with a line at their end, every run as a dot, hollow where it is excluded, and the interval below these. */
export function barMarks(
  look: Look,
  {
    fontSize,
    dotSize,
    pitch,
  }: {
    readonly fontSize: number;
    /** Diameter, pixels. */
    readonly dotSize: number;
    /** From row to row, pixels. */
    readonly pitch: number;
  },
): Mark[] {
  const row = { y: { scale: 'y', field: 'key' }, height: { scale: 'y', band: 1 } } as const;
  return [
    {
      type: 'rect',
      name: 'drawn-bars',
      from: { data: 'bars' },
      encode: {
        enter: {
          x: { scale: 'x', value: 0 },
          x2: { scale: 'x', field: 'mean' },
          ...row,
          fill: [{ test: 'datum.isBaseline', value: look.baseline }, { value: look.bar }],
        },
      },
    },
    {
      type: 'rect',
      name: 'drawn-means',
      from: { data: 'bars' },
      encode: {
        enter: {
          xc: { scale: 'x', field: 'mean' },
          width: { value: fontSize / 7 },
          ...row,
          fill: [{ test: 'datum.isBaseline', value: look.quiet }, { value: look.mean }],
        },
      },
    },
    {
      type: 'symbol',
      name: 'drawn-dots',
      from: { data: 'dots' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'value' },
          y: { signal: "scale('y', datum.key) + bandwidth('y') * (0.02 + 0.68 * datum.place)" },
          size: { value: dotSize ** 2 },
          fill: [{ test: 'datum.isExcluded', value: 'none' }, { value: look.run }],
          stroke: [{ test: 'datum.isExcluded', value: look.spare }, { value: 'none' }],
          strokeWidth: { value: dotSize / 4 },
          fillOpacity: { value: 0.7 },
        },
      },
    },
    // Below the dots: neither hides the other.
    ...intervalMarks(look, fontSize, {
      band: 0.84,
      reach: Math.min(fontSize * 0.42, pitch * 0.1),
    }),
  ];
}
