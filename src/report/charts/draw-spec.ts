import { parse, type Spec, View } from 'vega';
import { html } from '../page/html.ts';

/**
 * A specification as SVG text, one picture to a screen reader with the specification's description. Nothing is loaded: no chart of ours
 * names a file or an address.
 */
export async function drawSpec(spec: Spec): Promise<string> {
  const view = new View(parse(spec), { renderer: 'none', loader: noLoader });
  try {
    const svg = await view.toSVG();
    const label = html`<svg role="img" aria-label="${spec.description ?? ''}" `;
    return withoutRoles(svg).replace(/^<svg /, () => label.text);
  } finally {
    view.finalize();
  }
}

const refuse = (): Promise<never> =>
  Promise.reject(new Error('internal error: a chart asks for a file'));
const noLoader = { load: refuse, sanitize: refuse, http: refuse, file: refuse };

/** The picture is told as a whole: its marks would be read out one by one. Inside of tags only, since labels may look like attributes. */
function withoutRoles(svg: string): string {
  return svg.replace(/<[a-z][^<>]*>/gi, (tag) => tag.replace(/ (?:role|aria-[a-z]+)="[^"]*"/g, ''));
}
