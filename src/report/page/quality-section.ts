import { groupBy } from '../../lib/group-by.ts';
import type { Report } from '../../model/report.ts';
import { qualityTitles } from '../story/quality-titles.ts';
import { html } from './html.ts';
import type { Section } from './section.ts';

/** What a reader should weigh about the data. */
export function qualitySection({ quality }: Report): Section {
  const kinds = [...groupBy(quality, ({ kind }) => kind)];
  const body =
    kinds.length === 0
      ? html`<p>Nothing odd was noticed: no failed, excluded, throttled or disturbed runs, no outliers, no undeclared difference.</p>`
      : html`<div class="columns">${kinds.map(
          ([kind, notes]) =>
            html`<div class="quality"><h3>${qualityTitles[kind]}</h3><ul>${notes.map(
              ({ subject, text }) =>
                html`<li>${subject === null ? null : html`<b>${subject}</b>: `}${text}</li>`,
            )}</ul></div>`,
        )}</div>`;
  return { id: 'quality', title: 'What to weigh', body };
}
