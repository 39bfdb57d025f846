import type { Mark } from 'vega';
import type { Plot } from './frame.ts';
import { textWidth } from './text-width.ts';

/** Behind all panels: when something ran, and when the agent was away. Of the data sets `runs` and `gaps`. */
export function spanMarks({ look, fontSize, height }: Plot): Mark[] {
  const span = (data: string, more: object): Mark => ({
    type: 'rect',
    from: { data },
    encode: {
      enter: {
        x: { scale: 'x', field: 'from' },
        x2: { scale: 'x', field: 'to' },
        y: { value: 0 },
        height: { value: height },
        ...more,
      },
    },
  });
  const edge = (field: 'from' | 'to'): Mark => ({
    type: 'rule',
    from: { data: 'gaps' },
    encode: {
      enter: {
        x: { scale: 'x', field },
        y: { value: 0 },
        y2: { value: height },
        stroke: { value: look.spare },
        strokeWidth: { value: fontSize / 12 },
        strokeDash: { value: [fontSize / 3, fontSize / 5] },
      },
    },
  });
  return [
    span('runs', {
      fill: { value: look.baseline },
      fillOpacity: [{ test: 'datum.isWarmUp', value: 0.35 }, { value: 0.7 }],
    }),
    span('gaps', { fill: { value: look.spare }, fillOpacity: { value: 0.12 } }),
    edge('from'),
    edge('to'),
  ];
}

/** The runs as a row of boxes: full, hollow for warm-ups, a cross above those that failed. */
export function runLane({ look, fontSize }: Plot, high: number): Mark[] {
  const tall = fontSize * 0.55;
  const top = (high - tall) / 2 - fontSize * 0.1;
  const line = fontSize / 14;
  return [
    {
      type: 'text',
      encode: {
        enter: {
          x: { value: -fontSize * 0.5 },
          y: { value: top + tall / 2 },
          text: { value: 'runs' },
          align: { value: 'right' },
          baseline: { value: 'middle' },
          fill: { value: look.quiet },
        },
      },
    },
    {
      type: 'rect',
      from: { data: 'runs' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'from' },
          x2: { scale: 'x', field: 'to' },
          y: { value: top },
          height: { value: tall },
          fill: [{ test: 'datum.isWarmUp', value: 'none' }, { value: look.quiet }],
          stroke: { value: look.quiet },
          strokeWidth: { value: line },
        },
      },
    },
    ...crosses(look.spare, { fontSize, middle: top + tall / 2 }),
    awayText({ look, fontSize }, top + tall / 2),
  ];
}

function crosses(
  colour: string,
  { fontSize, middle }: { readonly fontSize: number; readonly middle: number },
): Mark[] {
  const size = fontSize * 0.42;
  return [size, -size].map((slope) => ({
    type: 'rule',
    from: { data: 'failed' },
    encode: {
      enter: {
        x: { scale: 'x', field: 'middle', offset: -size },
        x2: { scale: 'x', field: 'middle', offset: size },
        y: { value: middle - slope },
        y2: { value: middle + slope },
        stroke: { value: colour },
        strokeWidth: { value: fontSize / 7 },
      },
    },
  }));
}

/** Where there is room for the word. */
function awayText({ look, fontSize }: Pick<Plot, 'look' | 'fontSize'>, y: number): Mark {
  const wide = textWidth('away', fontSize);
  return {
    type: 'text',
    from: { data: 'gaps' },
    encode: {
      enter: {
        x: { signal: "(scale('x', datum.from) + scale('x', datum.to)) / 2" },
        y: { value: y },
        text: {
          signal: `scale('x', datum.to) - scale('x', datum.from) > ${wide} ? 'away' : ''`,
        },
        align: { value: 'center' },
        baseline: { value: 'middle' },
        fill: { value: look.spare },
      },
    },
  };
}
