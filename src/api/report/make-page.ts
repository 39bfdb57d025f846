import type { Report } from '../../model/report.ts';
import { pageCharts } from '../../report/charts/draw-charts.ts';
import { renderPage } from '../../report/page/render-page.ts';
import { readPageAssets } from './read-page-assets.ts';

/** A report as one self-contained HTML file. */
export async function makePage(report: Report): Promise<string> {
  const [assets, charts] = await Promise.all([readPageAssets(), pageCharts(report)]);
  return renderPage(report, { ...assets, charts });
}
