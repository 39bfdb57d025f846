import type { Report } from '../../model/report.ts';
import { html } from './html.ts';
import { renderTable, type Section } from './section.ts';

/** Where every number comes from. */
export function sourcesSection({ sources, suite, tool, madeAt }: Report): Section {
  const table = renderTable({
    caption: 'Sittings, in the order of time',
    columns: [
      { title: 'folder', isLong: true },
      { title: 'rig' },
      { title: 'begun (UTC)' },
      { title: 'state' },
      { title: 'runs', isNumber: true },
      { title: 'steadyrig' },
      { title: 'seal: SHA-512 of tagmanifest-sha512.txt', isLong: true },
    ],
    rows: sources.map(
      ({ sitting, rig, startedAt, state, runs, tool: version, seal, isSealChecked }) => [
        html`<code>${sitting}</code>`,
        rig,
        html`<span class="number">${startedAt.slice(0, 19).replace('T', ' ')}</span>`,
        state,
        runs,
        version,
        seal === null
          ? 'not sealed'
          : html`<code class="seal">${seal}</code>${isSealChecked ? ', checked' : ', not checked'}`,
      ],
    ),
  });
  return {
    id: 'sources',
    title: 'Where the numbers come from',
    body: html`<p>Suite ${suite.id}, revision ${suite.revision}${suite.profile === null ? null : html`, profile ${suite.profile}`}, digest <code>${suite.digest}</code>. Report made by steadyrig ${tool} at ${madeAt.replace(/\.\d+Z$/, 'Z')}.</p>${table}`,
  };
}
