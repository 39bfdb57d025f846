/** Colours of a chart: Okabe and Ito's palette, text darkened or lightened to a contrast of 4.5 with the paper (WCAG 2.2 AA). */
export interface Look {
  /** Null: nothing is drawn behind. */
  readonly paper: string | null;
  readonly ink: string;
  readonly quiet: string;
  readonly line: string;
  readonly bar: string;
  readonly baseline: string;
  readonly mean: string;
  readonly band: string;
  readonly run: string;
  readonly spare: string;
}

const light = {
  ink: '#1c1d1f',
  quiet: '#5b5f66',
  line: '#d6d7d3',
  bar: '#cfe1ef',
  baseline: '#dcdcd8',
  mean: '#0072b2',
  band: '#e9e6da',
  run: '#1c1d1f',
  spare: '#a84700',
};
const dark = {
  ink: '#eceae4',
  quiet: '#a8aaae',
  line: '#3a3c40',
  bar: '#1f4560',
  baseline: '#3d3e40',
  mean: '#56b4e9',
  band: '#2c2a22',
  run: '#eceae4',
  spare: '#f2a066',
};

export const themes = ['light', 'dark', 'light-transparent', 'dark-transparent', 'page'] as const;
export type Theme = (typeof themes)[number];

export const looks: Readonly<Record<Theme, Look>> = {
  light: { paper: '#ffffff', ...light },
  dark: { paper: '#17181a', ...dark },
  'light-transparent': { paper: null, ...light },
  'dark-transparent': { paper: null, ...dark },
  // The custom properties of the page, so that its light and dark hold for charts in it too.
  page: {
    paper: null,
    ink: 'var(--ink)',
    quiet: 'var(--quiet)',
    line: 'var(--line)',
    bar: 'var(--bar)',
    baseline: 'var(--bar-base)',
    mean: 'var(--mean)',
    band: 'var(--band)',
    run: 'var(--dot)',
    spare: 'var(--worse)',
  },
};
