import type { Mark } from 'vega';
import { plainText } from '../comparison/plain-text.ts';
import type { Canvas, Chart } from './frame.ts';
import type { Look } from './looks.ts';
import { cutToWidth, textWidth, wrapToWidth } from './text-width.ts';

interface Line {
  readonly text: string;
  /** Base line, from the upper edge of the picture. */
  readonly y: number;
  readonly size: number;
  readonly colour: keyof Pick<Look, 'ink' | 'quiet' | 'spare'>;
  readonly isBold?: true;
  readonly isRight?: true;
}

export interface Heading {
  readonly lines: readonly Line[];
  /** What it takes of the picture's height. */
  readonly height: number;
}

const invented = 'INVENTED DATA';
/** Of the semibold to the regular. */
const bold = 1.04;

/** Title, how to read it, and in pictures of invented data that they are; up to two lines of a title before it is cut. On a page, which has titles, the last alone. */
export function headingOf({ width, fontSize, isAlone }: Canvas, chart: Chart): Heading {
  if (!isAlone)
    return chart.isInvented
      ? { lines: [inventedLine(fontSize)], height: fontSize * 1.4 }
      : { lines: [], height: fontSize * 0.2 };
  const room = width - fontSize * 2.8;
  const mark = chart.isInvented ? textWidth(invented, fontSize) * bold + fontSize * 1.5 : 0;
  const titles = wrapToWidth(plainText(chart.title), fontSize * 1.5 * bold, {
    width: room - mark,
    most: 2,
  });
  const subtitles = wrapToWidth(plainText(chart.subtitle), fontSize, { width: room, most: 3 });
  let y = fontSize * 0.4;
  const next = (step: number): number => {
    y += fontSize * step;
    return y;
  };
  const lines = [
    ...titles.map((text): Line => ({ text, y: next(1.7), size: 1.5, colour: 'ink', isBold: true })),
    ...subtitles.map(
      (text, at): Line => ({ text, y: next(at === 0 ? 1.5 : 1.25), size: 1, colour: 'quiet' }),
    ),
    ...(chart.isInvented ? [inventedLine(fontSize * 2.1)] : []),
  ];
  return { lines, height: y + fontSize * 0.7 };
}

function inventedLine(y: number): Line {
  return { text: invented, y, size: 1, colour: 'spare', isBold: true, isRight: true };
}

/** Suite, sittings and version, at the lower edge. */
export function footLine({ width, height, fontSize }: Canvas, foot: string): Line {
  const size = 0.8;
  return {
    text: cutToWidth(plainText(foot), fontSize * size, width - fontSize * 2.8),
    y: height - fontSize * 0.9,
    size,
    colour: 'quiet',
  };
}

/** As marks of a plot whose origin lies at `left`, `top` of the picture. */
export function drawLines(
  lines: readonly Line[],
  { width, fontSize }: Canvas,
  { look, left, top }: { readonly look: Look; readonly left: number; readonly top: number },
): readonly Mark[] {
  const margin = fontSize * 1.4;
  return lines.map(({ text, y, size, colour, isBold = false, isRight = false }) => ({
    type: 'text',
    encode: {
      enter: {
        x: { value: (isRight ? width - margin : margin) - left },
        y: { value: y - top },
        text: { value: text },
        align: { value: isRight ? 'right' : 'left' },
        fontSize: { value: fontSize * size },
        fontWeight: { value: isBold ? 600 : 400 },
        fill: { value: look[colour] },
      },
    },
  }));
}
