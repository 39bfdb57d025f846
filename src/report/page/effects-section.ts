import type { Effects } from '../../model/effects.ts';
import { intervalText, pText, ratioText } from '../comparison/ratio-text.ts';
import { html, type Markup } from './html.ts';
import { renderTable, type Section } from './section.ts';

const findingTexts = {
  shown: 'shown',
  alike: 'alike',
  open: 'open',
  voided: 'void',
  untested: 'untested',
  untold: 'cannot be told',
} as const;

/** What the factors do, a sentence each, then the numbers. */
export function effectsSection(effects: Effects, chart: Markup | null): Section {
  const all = effects.metrics.flatMap((metric) =>
    metric.effects.map((effect) => ({ metric, effect })),
  );
  const sentences = effects.metrics.map(
    ({ workload, metric, effects: own }) =>
      html`<div><h3>${workload}: ${metric}</h3><ul>${own.map(({ sentence }) => html`<li>${sentence}</li>`)}</ul></div>`,
  );
  const table = renderTable({
    caption: 'Effects as ratios, above 1 better; p adjusted over all of them (Holm)',
    columns: [
      { title: 'workload: figure' },
      { title: 'effect' },
      { title: 'ratio', isNumber: true },
      { title: 'interval', isNumber: true },
      { title: 'adj. p', isNumber: true },
      { title: 'finding' },
    ],
    rows: all.flatMap(({ metric, effect }) =>
      effect.contrasts.map((contrast) => [
        `${metric.workload}: ${metric.metric}`,
        contrast.to === null
          ? effect.factors.join(' × ')
          : `${effect.factors[0] ?? ''}: ${contrast.to}`,
        ratioText(contrast),
        intervalText(contrast),
        pText(effect.adjustedP),
        findingTexts[effect.finding],
      ]),
    ),
  });
  return {
    id: 'effects',
    title: 'What caused it',
    body: html`${chart}<div class="columns">${sentences}</div><details><summary>Effects as a table</summary>${table}</details>`,
  };
}
