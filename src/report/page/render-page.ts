import { createHash } from 'node:crypto';
import type { Report } from '../../model/report.ts';
import { absencesText } from './absences-text.ts';
import { answerSection } from './answer-section.ts';
import { courseSection } from './course-section.ts';
import { effectsSection } from './effects-section.ts';
import { figuresSection } from './figures-section.ts';
import { html, type Markup, markup, visibleText } from './html.ts';
import { indexSection } from './index-section.ts';
import { inventorySection } from './inventory-section.ts';
import { matrixSection } from './matrix-section.ts';
import { methodSection } from './method-section.ts';
import { pageData } from './page-data.ts';
import { rowFinder } from './page-rows.ts';
import { qualitySection } from './quality-section.ts';
import { type RatioScale, ratioScale } from './scale.ts';
import { renderSection, type Section, scrollBox } from './section.ts';
import { sourcesSection } from './sources-section.ts';
import { pageStyle } from './style.ts';
import { workloadSection } from './workload-section.ts';
import { worthSection } from './worth-section.ts';

/** What a page holds beside the report. */
export interface PageAssets {
  /** Classic script, without imports. */
  readonly script: string;
  /** WOFF2, base64. */
  readonly fonts: { readonly regular: string; readonly semibold: string };
  /** Charts by name (`index`, `effects`, `price`, `course:<sitting>`), as SVG that this project has drawn. */
  readonly charts: ReadonlyMap<string, string>;
}

/**
 * A report as one HTML file that needs nothing else. Its policy lets in the one style and the one script by their digests, and
 * nothing from any network; every text of files and programs is escaped.
 */
export function renderPage(report: Report, assets: PageAssets): string {
  const ratios = ratioScale(
    report.comparisons.flatMap(({ rows, overall }) => [...rows, ...overall]),
    report.comparisons[0].matters,
  );
  const { matters } = report.comparisons[0];
  const band = { from: ratios.place(1 / (1 + matters)), to: ratios.place(1 + matters) };
  const style = pageStyle(assets.fonts, band, report.rigs.length);
  const sections = sectionsOf(report, assets, ratios);
  const absences = absencesText(
    report,
    sections.map(({ id }) => id),
  );
  const invented = report.invented ? 'INVENTED DATA, for demonstration: ' : '';
  const page = html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy(style, assets.script)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="generator" content="steadyrig ${report.tool}">
<title>${invented}${report.title}</title>
<style>${markup(style)}</style>
</head>
<body>
<a class="skip" href="#answer">To the answer</a>
<header>
${report.invented ? html`<p class="invented"><strong>Invented data.</strong> Made for demonstration: no machine was measured.</p>` : null}
<h1>${report.title}</h1>
<p class="quiet">Suite ${report.suite.title} (${report.suite.id}, revision ${report.suite.revision}); ${report.rigs.length} rigs, ${report.sources.length} sittings; made ${report.madeAt.slice(0, 10)}</p>
<nav aria-label="Contents"><ul>${sections.map(({ id, title }) => html`<li><a href="#${id}">${title}</a></li>`)}</ul></nav>
${absences === null ? null : html`<p class="quiet">${absences}</p>`}
<div class="tools" id="page-tools" hidden></div>
</header>
<main>
${sections.map(renderSection)}
</main>
<div id="runs-panel" role="status" aria-live="polite" hidden></div>
<script type="application/json" id="data">${dataText(pageData(report, ratios))}</script>
<script>${markup(assets.script)}</script>
</body>
</html>
`;
  return page.text;
}

function sectionsOf(
  report: Report,
  { charts }: PageAssets,
  ratios: RatioScale,
): readonly Section[] {
  const shared = { report, find: rowFinder(report), ratios };
  const chart = (name: string): Markup | null => {
    const svg = charts.get(name);
    return svg === undefined
      ? null
      : html`<figure class="chart drawn" data-name="${name}">${scrollBox(`Chart: ${name}`, markup(svg))}</figure>`;
  };
  const found = [
    answerSection(report),
    indexSection(report, ratios, chart('index')),
    workloadSection(shared),
    matrixSection(shared),
    report.effects === null ? null : effectsSection(report.effects, chart('effects')),
    report.worth === null ? null : worthSection(report.worth, chart('price')),
    inventorySection(report),
    courseSection(report, (sitting) => chart(`course:${sitting}`)),
    qualitySection(report),
    methodSection(report),
    figuresSection(report),
    sourcesSection(report),
  ];
  return found.filter((section) => section !== null);
}

function policy(style: string, script: string): string {
  return [
    "default-src 'none'",
    `style-src '${digest(style)}'`,
    `script-src '${digest(script)}'`,
    'font-src data:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

function digest(text: string): string {
  return `sha256-${createHash('sha256').update(text).digest('base64')}`;
}

/** JSON in which nothing can end the element that holds it, and no text turns the direction of writing. */
function dataText(data: object): Markup {
  const text = JSON.stringify(data, (_, value: unknown) =>
    typeof value === 'string' ? visibleText(value) : value,
  );
  return markup(text.replace(/</g, '\\u003c'));
}
