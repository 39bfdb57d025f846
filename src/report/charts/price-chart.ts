import type { Mark, Spec } from 'vega';
import type { Report } from '../../model/report.ts';
import type { FrontierRow, Worth } from '../../model/worth.ts';
import { plainText } from '../comparison/plain-text.ts';
import { shorten } from '../text-table.ts';
import { footOf } from './foot.ts';
import { type Canvas, framed, type Plot } from './frame.ts';

interface Point {
  readonly label: string;
  readonly price: number;
  readonly index: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly state: FrontierRow['state'];
}

const stateWords = {
  unbeaten: 'no other rig beats it',
  open: 'open',
  beaten: 'beaten',
  'not-told': 'cannot be told',
} as const;

/** Price against performance as measured, with the rigs that no other beats joined; null without two priced and measured rigs in one currency. */
export function priceChart(report: Report, worth: Worth, canvas: Canvas): Spec | null {
  const points = pointsOf(worth);
  const currency = worth.rigs[0]?.builds[0].value.together?.currency;
  if (points.length < 2 || currency === undefined) return null;
  const front = points
    .filter(({ state }) => state === 'unbeaten')
    .sort((a, b) => a.price - b.price);
  const { fontSize } = canvas;
  return framed(
    canvas,
    {
      title: 'Price against performance',
      subtitle: `As measured, index against ${worth.baseline} with ${Math.round(worth.confidence * 1000) / 10} % intervals; axes do not begin at zero`,
      foot: footOf(report),
      isInvented: report.invented,
      description: points
        .map(
          ({ label, price, index, state }) =>
            `${label}: ${price} ${currency}, index ${index.toFixed(3)}, ${stateWords[state]}`,
        )
        .join('; '),
    },
    { isAxisBelow: true, left: fontSize * 6.5, right: fontSize * 2 },
    (plot) => ({
      data: [
        { name: 'points', values: [...points] },
        { name: 'known', values: points.filter(({ low }) => low !== null) },
        { name: 'front', values: front },
      ],
      scales: [
        {
          name: 'x',
          type: 'linear',
          zero: false,
          nice: true,
          range: 'width',
          domain: padded(points.map(({ price }) => price)),
        },
        {
          name: 'y',
          type: 'linear',
          zero: false,
          nice: true,
          range: 'height',
          domain: padded(
            points.flatMap(({ index, low, high }) => [index, low ?? index, high ?? index]),
          ),
        },
        {
          name: 'shape',
          type: 'ordinal',
          domain: Object.keys(stateWords),
          range: ['circle', 'diamond', 'cross', 'triangle-up'],
        },
      ],
      axes: [
        {
          orient: 'bottom',
          scale: 'x',
          title: `price, ${currency}; ← lower is better`,
          grid: true,
          tickCount: 6,
          offset: 4,
        },
        {
          orient: 'left',
          scale: 'y',
          title: 'index; higher is better →',
          grid: true,
          tickCount: 6,
          offset: 4,
        },
      ],
      marks: marks(plot),
    }),
  );
}

function pointsOf(worth: Worth): readonly Point[] {
  const states = new Map(
    worth.frontier.filter(({ by }) => by === 'as-measured').map(({ rig, state }) => [rig, state]),
  );
  const sorted = worth.rigs
    .flatMap(({ label, index, builds }) => {
      const price = builds[0].value.together;
      if (price === null || index === null) return [];
      const { value, low, high } = index;
      return [
        {
          label,
          price: Number(price.amount),
          index: value,
          low,
          high,
          state: states.get(label) ?? ('not-told' as const),
        },
      ];
    })
    .sort((a, b) => a.index - b.index);
  return sorted.map((point) => ({
    ...point,
    label: shorten(plainText(`${point.label} (${stateWords[point.state]})`), 48),
  }));
}

function padded(values: readonly number[]): number[] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low || high * 0.02) * 0.22;
  return [low - room, high + room];
}

function marks({ look, fontSize }: Plot): Mark[] {
  const right = "scale('x', datum.price) > width * 0.6";
  const x = { scale: 'x', field: 'price' } as const;
  const y = { scale: 'y', field: 'index' } as const;
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
      type: 'rule',
      from: { data: 'known' },
      encode: {
        enter: {
          x,
          y: { scale: 'y', field: 'low' },
          y2: { scale: 'y', field: 'high' },
          stroke: { value: look.ink },
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
          size: { value: fontSize * fontSize * 0.6 },
          fill: [{ test: "datum.state === 'beaten'", value: look.quiet }, { value: look.mean }],
        },
      },
    },
    {
      type: 'text',
      from: { data: 'points' },
      encode: {
        enter: {
          // The frontier rises to the right, so below it on the right and above it on the left there is room.
          x: { ...x, offset: { signal: `${right} ? ${-fontSize * 0.7} : ${fontSize * 0.7}` } },
          y: { ...y, offset: { signal: `${right} ? ${-fontSize} : ${fontSize}` } },
          text: { field: 'label' },
          align: { signal: `${right} ? 'right' : 'left'` },
          baseline: { value: 'middle' },
        },
      },
    },
  ];
}
