import type { Spec } from 'vega';
import type { Report } from '../../model/report.ts';
import type { Worth } from '../../model/worth.ts';
import { confidenceText, footOf, leftOutNote } from './chart-texts.ts';
import { type Canvas, type Chart, framed, type Parts, type Plot } from './frame.ts';
import { type LabelledPoint, placeLabels } from './place-labels.ts';
import { legendMarks, priceMarks } from './price-marks.ts';
import { type PricePoint, type PricePoints, pricePoints, stateWords } from './price-points.ts';

/** With so few points there is room for their figures. */
const fewPoints = 10;

/** Price against performance as measured, with the rigs that no other beats joined; null without two rigs that have both. */
export function priceChart(report: Report, worth: Worth, canvas: Canvas): Spec | null {
  const found = pricePoints(worth);
  if (found === null) return null;
  const { fontSize } = canvas;
  const texts: Chart = {
    title: 'Price against performance',
    subtitle: subtitle(worth, found),
    foot: footOf(report),
    isInvented: report.invented,
    description: found.points
      .map(
        ({ rig, priceText, indexText, state }) =>
          `${rig}: ${priceText}, index ${indexText}, ${stateWords[state]}`,
      )
      .join('; '),
    axis: 'below',
  };
  return framed(canvas, texts, () => ({
    left: fontSize * 6.5,
    right: fontSize * 2,
    draw: (plot) => drawPoints(found, plot),
  }));
}

function subtitle(
  { confidence, baseline }: Worth,
  { unpriced, uncompared }: Pick<PricePoints, 'unpriced' | 'uncompared'>,
): string {
  const left = `${leftOutNote('without a full price', unpriced)}${leftOutNote('not compared', uncompared)}`;
  return `As measured; index against ${baseline} with ${confidenceText(confidence)} intervals; dashes join the rigs that no other beats; axes do not begin at zero${left}`;
}

function drawPoints({ points, currency }: PricePoints, plot: Plot): Parts {
  const { width, height, look, fontSize } = plot;
  const domains = {
    x: niceDomain(points.map(({ price }) => price)),
    y: niceDomain(points.flatMap(({ index, low, high }) => [index, low ?? index, high ?? index])),
  };
  const upper = fontSize * 1.8;
  const place = {
    x: (price: number): number => share(price, domains.x) * width,
    y: (index: number): number => height - share(index, domains.y) * (height - upper),
  };
  const front = points
    .filter(({ state }) => state === 'unbeaten')
    .sort((a, b) => a.price - b.price);
  const size = points.length > fewPoints ? fontSize * 0.75 : fontSize;
  const labelled = points.map((point) => labelledPoint(point, place, points.length <= fewPoints));
  const labels = placeLabels(labelled, {
    width,
    height,
    fontSize: size,
    avoid: alongLine(front.map(({ price, index }) => ({ x: place.x(price), y: place.y(index) }))),
  });
  return {
    data: [
      { name: 'points', values: [...points] },
      { name: 'known', values: points.filter(({ low }) => low !== null) },
      { name: 'front', values: front },
    ],
    scales: [
      { name: 'x', type: 'linear', zero: false, range: 'width', domain: [...domains.x] },
      { name: 'y', type: 'linear', zero: false, range: [height, upper], domain: [...domains.y] },
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
    marks: [
      ...legendMarks(
        look,
        fontSize,
        new Set(points.map(({ state }) => state)),
        labels.filter((label) => label === null).length,
      ),
      ...priceMarks(look, fontSize, { points: labelled, labels, size }),
    ],
  };
}

type Place = Readonly<Record<'x' | 'y', (value: number) => number>>;

function labelledPoint(
  { rig, price, priceText, index, indexText, low, high }: PricePoint,
  place: Place,
  isDetailed: boolean,
): LabelledPoint {
  return {
    x: place.x(price),
    y: place.y(index),
    from: place.y(high ?? index),
    to: place.y(low ?? index),
    lines: isDetailed ? [rig, `${priceText}; ${indexText}`] : [rig],
  };
}

function share(value: number, [low, high]: readonly [number, number]): number {
  return (value - low) / (high - low);
}

/** Wide enough that no point lies at an edge, and with round ends. */
function niceDomain(values: readonly number[]): readonly [number, number] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low || Math.abs(high) * 0.02 || 1) * 0.15;
  const raw = (high - low + 2 * room) / 14;
  const unit = 10 ** Math.floor(Math.log10(raw));
  const step = ([1, 2, 5, 10].find((one) => one * unit >= raw) ?? 10) * unit;
  return [Math.floor((low - room) / step) * step, Math.ceil((high + room) / step) * step];
}

/** Points close together on a line through others. */
function alongLine(
  corners: readonly { readonly x: number; readonly y: number }[],
): readonly { readonly x: number; readonly y: number }[] {
  const steps = 40;
  return corners.slice(1).flatMap((to, at) => {
    const from = corners[at] ?? to;
    return Array.from({ length: steps + 1 }, (_, step) => ({
      x: from.x + ((to.x - from.x) * step) / steps,
      y: from.y + ((to.y - from.y) * step) / steps,
    }));
  });
}
