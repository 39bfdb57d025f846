import type { Report } from '../../model/report.ts';
import { html } from './html.ts';
import { paragraphs, type Section } from './section.ts';

/** How it was measured, ready to be pasted. */
export function methodSection({ method }: Report): Section {
  return {
    id: 'method',
    title: 'How it was measured',
    body: html`<div id="method-text" class="prose">${paragraphs(method)}</div>`,
  };
}
