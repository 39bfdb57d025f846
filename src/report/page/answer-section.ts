import type { Report } from '../../model/report.ts';
import { html } from './html.ts';
import { paragraphs, renderTable, type Section } from './section.ts';

/** The question, what was found, and which rigs it is about. */
export function answerSection({ question, answer, rigs }: Report): Section {
  const factors = [...new Set(rigs.flatMap(({ levels }) => Object.keys(levels)))];
  const table = renderTable({
    caption: 'The rigs',
    columns: [
      { title: 'rig' },
      { title: 'what it is' },
      ...factors.map((title) => ({ title })),
      { title: 'sittings', isNumber: true },
    ],
    rows: rigs.map(({ label, title, levels, sittings }, at) => [
      at === 0 ? html`${label} <span class="tag">baseline</span>` : label,
      title === label ? '' : title,
      ...factors.map((factor) => levels[factor] ?? 'not stated'),
      sittings.length,
    ]),
  });
  return {
    id: 'answer',
    title: 'The answer',
    body: html`${question === null ? null : html`<p class="question">${question}</p>`}<div class="answer">${paragraphs(answer)}</div>${table}`,
  };
}
