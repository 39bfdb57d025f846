import type { ComparisonRow } from '../../model/comparison.ts';
import { verdictSigns } from '../comparison/verdict-text.ts';
import { html, type Markup } from './html.ts';

/** A verdict by a sign, a word and, last, a colour. */
export function verdictMark(
  row: Pick<ComparisonRow, 'verdict'> | undefined,
  isBaseline: boolean,
): Markup {
  if (isBaseline) return html`<span class="verdict is-baseline">baseline</span>`;
  if (row === undefined) return html`<span class="verdict is-none">not compared</span>`;
  const { verdict } = row;
  return html`<span class="verdict is-${verdict}"><span class="sign" aria-hidden="true">${verdictSigns[verdict]}</span> ${verdict}</span>`;
}
