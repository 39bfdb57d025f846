import { parse, type Spec, View } from 'vega';
import { html } from '../page/html.ts';
import { fontFamily } from './frame.ts';

/**
 * A specification as SVG text, one picture to a screen reader with the specification's description. Nothing is loaded: no chart of ours
 * names a file or an address.
 */
export async function drawSpec(spec: Spec): Promise<string> {
  const view = new View(parse(spec), { renderer: 'none', loader: noLoader });
  try {
    const svg = await view.toSVG();
    const label = html`<svg role="img" aria-label="${spec.description ?? ''}" font-family="${fontFamily}" `;
    return smaller(svg).replace(/^<svg /, () => label.text);
  } finally {
    view.finalize();
  }
}

const refuse = (): Promise<never> =>
  Promise.reject(new Error('internal error: a chart asks for a file'));
const noLoader = { load: refuse, sanitize: refuse, http: refuse, file: refuse };

/** What every text and line repeats: the font of the whole picture, and what holds anyhow. */
const repeated = [
  html` font-family="${fontFamily}"`.text.replaceAll('&quot;', '(?:&quot;|&#34;)'),
  ' pointer-events="none"',
  ' (?:opacity|stroke-opacity|fill-opacity|stroke-width)="1"',
];
const superfluous = new RegExp(` (?:role|aria-[a-z]+)="[^"]*"|${repeated.join('|')}`, 'g');

/**
 * Without roles, since the picture is told as a whole and its marks would be read out one by one, and with paths to a tenth of a pixel.
 * Inside of tags only, since labels may look like attributes.
 */
function smaller(svg: string): string {
  const short = svg.replace(/<[a-z][^<>]*>/gi, (tag) =>
    tag.replace(superfluous, '').replace(/ d="[^"]*"/, (path) => path.replace(/(\.\d)\d+/g, '$1')),
  );
  return short.replace(/(?:<path d="M[^"A-Z]*Z"[^<>]*\/>){2,}/g, joinBoxes);
}

/** Boxes one after the other that look alike as one path: a course has hundreds. */
function joinBoxes(paths: string): string {
  const joined: { shape: string; readonly look: string }[] = [];
  for (const [, shape = '', look = ''] of paths.matchAll(/<path d="([^"]*)"([^<>]*)\/>/g)) {
    const last = joined.at(-1);
    if (last?.look === look) last.shape += shape;
    else joined.push({ shape, look });
  }
  return joined.map(({ shape, look }) => `<path d="${shape}"${look}/>`).join('');
}
