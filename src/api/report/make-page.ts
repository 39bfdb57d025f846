import type { Report } from '../../model/report.ts';
import { renderPage } from '../../report/page/render-page.ts';
import { readPageAssets } from './read-page-assets.ts';

/** A report as one self-contained HTML file. */
export async function makePage(report: Report): Promise<string> {
  return renderPage(report, { ...(await readPageAssets()), charts: new Map() });
}
