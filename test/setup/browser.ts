import { type Browser, chromium, type Page } from 'playwright-core';

/** Headless Chromium that is left alone: no first run, no calls home. */
export function openBrowser(executablePath: string): Promise<Browser> {
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      // One rendering of fonts on every machine.
      '--font-render-hinting=none',
      '--disable-lcd-text',
    ],
  });
}

export interface Visit {
  readonly page: Page;
  /** What the page said on its console or threw, and asked of any network. */
  readonly complaints: readonly string[];
}

export interface VisitOptions {
  readonly width?: number;
  readonly height?: number;
  readonly scheme?: 'light' | 'dark';
  readonly withScript?: boolean;
}

/** Opens a file from disk as a reader does. */
export async function visit(
  browser: Browser,
  path: string,
  { width = 1280, height = 900, scheme = 'light', withScript = true }: VisitOptions = {},
): Promise<Visit> {
  const context = await browser.newContext({
    viewport: { width, height },
    colorScheme: scheme,
    javaScriptEnabled: withScript,
    acceptDownloads: true,
    permissions: ['clipboard-read', 'clipboard-write'],
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(`console ${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => complaints.push(`error: ${error.message}`));
  page.on('dialog', (dialog) => {
    complaints.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('request', (request) => {
    if (!/^(file|data|blob):/.test(request.url())) complaints.push(`request: ${request.url()}`);
  });
  await page.goto(`file://${path}`);
  await page.evaluate('document.fonts.ready');
  return { page, complaints };
}
