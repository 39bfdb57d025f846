import type { Report, ReportMetric } from '../../model/report.ts';
import { formatNumber } from '../quantity.ts';
import { figureText, metricScale } from './figure-text.ts';
import { html } from './html.ts';
import { renderTable, type Section } from './section.ts';

/** All figures as one table. */
export function figuresSection({ metrics }: Report): Section {
  const table = renderTable({
    caption: 'Every figure of every rig; excluded runs are not in them',
    columns: [
      { title: 'workload: figure' },
      { title: 'rig' },
      { title: 'unit' },
      { title: 'mean', isNumber: true },
      { title: 'interval', isNumber: true },
      { title: 'median', isNumber: true },
      { title: 'spread of runs', isNumber: true },
      { title: 'runs', isNumber: true },
      { title: 'sittings', isNumber: true },
      { title: 'rests on' },
    ],
    rows: metrics.flatMap(rowsOf),
  });
  return {
    id: 'figures',
    title: 'All figures',
    body: html`<details><summary>Table of all figures</summary>${table}</details>`,
  };
}

function rowsOf(metric: ReportMetric): readonly (readonly (string | number)[])[] {
  const scale = metricScale(metric);
  return metric.rigs.map((figures) => {
    const { rig, median, cv, runs, basis } = figures;
    const counting = runs.filter(({ excluded }) => excluded === null);
    const text = figureText(figures, scale);
    return [
      `${metric.workload}: ${metric.metric}`,
      rig,
      scale.symbol,
      text.mean,
      text.interval ?? '',
      formatNumber(median / scale.factor),
      cv === null ? '' : `${formatNumber(cv * 100, 2)} %`,
      counting.length,
      new Set(counting.map(({ sitting }) => sitting)).size,
      basis,
    ];
  });
}
