import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { builtPath } from '../../lib/built-path.ts';
import type { PageAssets } from '../../report/page/render-page.ts';

/** In the order in which they are joined: the last one begins. */
const scripts = [
  'elements',
  'baseline',
  'order-and-filter',
  'runs-panel',
  'copy',
  'download',
  'start',
];

/** The page's script and its fonts, from this package and from that of the fonts. */
export async function readPageAssets(): Promise<Omit<PageAssets, 'charts'>> {
  const parts = await Promise.all(
    scripts.map((name) =>
      readFile(builtPath(`../../report/client/${name}.js`, import.meta.url), 'utf8'),
    ),
  );
  const [regular, semibold] = await Promise.all(['Regular', 'Semibold'].map(readFont));
  return {
    script: `'use strict';\n${parts.join('')}`,
    fonts: { regular: regular ?? '', semibold: semibold ?? '' },
  };
}

const require = createRequire(import.meta.url);

async function readFont(weight: string): Promise<string> {
  const folder = join(require.resolve('source-sans/package.json'), '..');
  const bytes = await readFile(join(folder, 'WOFF2/TTF', `SourceSans3-${weight}.ttf.woff2`));
  return bytes.toString('base64');
}
