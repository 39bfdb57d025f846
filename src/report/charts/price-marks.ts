import type { Mark } from 'vega';
import type { FrontierRow } from '../../model/worth.ts';
import type { Look } from './looks.ts';
import { type LabelledPoint, lineStep, type PlacedLabel } from './place-labels.ts';
import { stateWords } from './price-points.ts';
import { textWidth } from './text-width.ts';

/** What each shape means, in a line above the points, and how many of these go without a name. */
export function legendMarks(
  look: Look,
  fontSize: number,
  present: ReadonlySet<FrontierRow['state']>,
  unnamed: number,
): Mark[] {
  const states = (Object.keys(stateWords) as FrontierRow['state'][]).filter((state) =>
    present.has(state),
  );
  let x = fontSize * 0.6;
  const shapes = states.flatMap((state): Mark[] => {
    const at = x;
    x += textWidth(stateWords[state], fontSize) + fontSize * 2.4;
    return [
      {
        type: 'symbol',
        encode: {
          enter: {
            x: { value: at },
            y: { value: fontSize * 0.6 },
            shape: { scale: 'shape', value: state },
            size: { value: fontSize * fontSize * 0.5 },
            fill: { value: state === 'beaten' ? look.quiet : look.mean },
          },
        },
      },
      words(stateWords[state], at + fontSize * 0.7),
    ];
  });
  return unnamed === 0 ? shapes : [...shapes, words(`no room for ${unnamed} names`, x)];

  function words(text: string, at: number): Mark {
    return {
      type: 'text',
      encode: {
        enter: {
          x: { value: at },
          y: { value: fontSize * 0.6 },
          text: { value: text },
          baseline: { value: 'middle' },
          fill: { value: look.quiet },
        },
      },
    };
  }
}

/** The line of those that no other beats, points with their intervals, and names beside them. */
export function priceMarks(
  look: Look,
  fontSize: number,
  {
    points,
    labels,
    size,
  }: {
    readonly points: readonly LabelledPoint[];
    readonly labels: readonly (PlacedLabel | null)[];
    /** Of the names. */
    readonly size: number;
  },
): Mark[] {
  const x = { scale: 'x', field: 'price' } as const;
  const y = { scale: 'y', field: 'index' } as const;
  const few = points.length <= 12 ? 1 : 0.7;
  return [
    {
      type: 'line',
      from: { data: 'front' },
      encode: {
        enter: {
          x,
          y,
          stroke: { value: look.mean },
          strokeDash: { value: [10, 7] },
          strokeWidth: { value: fontSize / 10 },
        },
      },
    },
    {
      type: 'symbol',
      from: { data: 'points' },
      encode: {
        enter: {
          x,
          y,
          shape: { scale: 'shape', field: 'state' },
          size: { value: fontSize * fontSize * 0.5 * few },
          fill: [{ test: "datum.state === 'beaten'", value: look.quiet }, { value: look.mean }],
        },
      },
    },
    ...intervals(look, fontSize * few),
    ...points.flatMap((point, at) => {
      const label = labels[at];
      return label === null || label === undefined ? [] : labelMarks(look, point, label, size);
    }),
  ];
}

function intervals(look: Look, fontSize: number): Mark[] {
  const x = { scale: 'x', field: 'price' } as const;
  const stroke = { stroke: { value: look.ink }, strokeWidth: { value: fontSize / 11 } };
  const end = (field: 'low' | 'high'): Mark => ({
    type: 'rule',
    from: { data: 'known' },
    encode: {
      enter: {
        x: { ...x, offset: -fontSize * 0.42 },
        x2: { ...x, offset: fontSize * 0.42 },
        y: { scale: 'y', field },
        ...stroke,
      },
    },
  });
  return [
    {
      type: 'rule',
      name: 'drawn-intervals',
      from: { data: 'known' },
      encode: {
        enter: {
          x,
          y: { scale: 'y', field: 'low' },
          y2: { scale: 'y', field: 'high' },
          ...stroke,
        },
      },
    },
    end('low'),
    end('high'),
  ];
}

function labelMarks(
  look: Look,
  point: LabelledPoint,
  { x, y, align, isFar }: PlacedLabel,
  size: number,
): Mark[] {
  const texts = point.lines.map(
    (line, at): Mark => ({
      type: 'text',
      encode: {
        enter: {
          x: { value: x },
          y: { value: y + at * size * lineStep },
          text: { value: line },
          align: { value: align },
          baseline: { value: 'middle' },
          fontSize: { value: size },
          fill: { value: at === 0 ? look.ink : look.quiet },
        },
      },
    }),
  );
  if (!isFar) return texts;
  const lead: Mark = {
    type: 'rule',
    encode: {
      enter: {
        x: { value: point.x },
        y: { value: point.y },
        x2: { value: x },
        y2: { value: y },
        stroke: { value: look.quiet },
        strokeWidth: { value: size / 16 },
      },
    },
  };
  return [lead, ...texts];
}
