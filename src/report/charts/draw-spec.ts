import { parse, type Spec, View } from 'vega';

/** A specification as SVG text. Nothing is loaded: no chart of ours names a file or an address. */
export async function drawSpec(spec: Spec): Promise<string> {
  const view = new View(parse(spec), { renderer: 'none', loader: noLoader });
  try {
    return await view.toSVG();
  } finally {
    view.finalize();
  }
}

const refuse = (): Promise<never> =>
  Promise.reject(new Error('internal error: a chart asks for a file'));
const noLoader = { load: refuse, sanitize: refuse, http: refuse, file: refuse };
