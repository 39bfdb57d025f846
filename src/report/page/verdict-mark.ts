import type { ComparisonRow } from '../../model/comparison.ts';
import { html, type Markup } from './html.ts';

/** A verdict by a word and, in the style sheet, a sign and a colour. */
export function verdictMark(
  row: Pick<ComparisonRow, 'verdict'> | undefined,
  isBaseline: boolean,
): Markup {
  if (isBaseline) return html`<span class="verdict is-baseline">baseline</span>`;
  if (row === undefined) return html`<span class="verdict is-none">not compared</span>`;
  return html`<span class="verdict is-${row.verdict}">${row.verdict}</span>`;
}
