import type { Mark, Scale } from 'vega';
import type { Canvas } from './frame.ts';
import { widest } from './text-width.ts';

/** A row of a chart: a name before the plot, what it says behind. */
export interface TextRow {
  readonly key: string;
  readonly label: string;
  /** One line behind the plot, or two where rows are high. */
  readonly text: readonly string[];
}

export interface RowLayout {
  readonly left: number;
  readonly right: number;
  /** Of the texts of rows: smaller where rows are many. */
  readonly fontSize: number;
  /** From row to row, pixels. */
  readonly pitch: number;
  readonly isTwoLines: boolean;
}

const smallest = 11;

/** Room for the texts of rows, as large as their number allows. */
export function layRows(
  canvas: Canvas,
  height: number,
  rows: readonly Pick<TextRow, 'label' | 'text'>[],
): RowLayout {
  const pitch = height / Math.max(1, rows.length);
  const fontSize = Math.min(canvas.fontSize, Math.max(smallest, pitch * 0.82));
  const isTwoLines = pitch > fontSize * 2.8;
  const texts = rows.flatMap(({ text }) => (isTwoLines ? text : [text.join(', ')]));
  return {
    left:
      widest(
        rows.map(({ label }) => label),
        fontSize,
      ) +
      canvas.fontSize * 2,
    right: widest(texts, fontSize) + canvas.fontSize * 2,
    fontSize,
    pitch,
    isTwoLines,
  };
}

export function rowScale(rows: readonly TextRow[], padding = 0): Scale {
  return {
    name: 'y',
    type: 'band',
    domain: rows.map(({ key }) => key),
    range: 'height',
    padding,
  };
}

/** The texts of every row; of the data set `rows`. */
export function rowTexts({ fontSize, isTwoLines }: RowLayout, gap: number): Mark[] {
  const middle = { scale: 'y', field: 'key', band: 0.5 } as const;
  const behind = { field: { group: 'width' }, offset: gap };
  const text = (signal: string, x: object, align: 'left' | 'right', y: object = middle): Mark => ({
    type: 'text',
    from: { data: 'rows' },
    encode: {
      enter: {
        x,
        y,
        text: { signal },
        align: { value: align },
        baseline: { value: 'middle' },
        fontSize: { value: fontSize },
      },
    },
  });
  const label = text('datum.label', { value: -gap }, 'right');
  if (!isTwoLines) return [label, text("join(datum.text, ', ')", behind, 'left')];
  const line = (at: 0 | 1): Mark =>
    text(`datum.text[${at}] || ''`, behind, 'left', {
      signal: `scale('y', datum.key) + bandwidth('y') / 2 + (datum.text.length > 1 ? ${(at - 0.5) * fontSize * 1.25} : 0)`,
    });
  return [label, line(0), line(1)];
}
