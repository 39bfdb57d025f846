import { type Content, html, type Markup } from './html.ts';

/** A part of the page with its heading; `id` is where the table of contents leads. */
export interface Section {
  readonly id: string;
  readonly title: string;
  readonly body: Markup;
}

export function renderSection({ id, title, body }: Section): Markup {
  return html`<section id="${id}" aria-labelledby="${id}-title"><h2 id="${id}-title">${title}</h2>${body}</section>`;
}

export interface Table {
  readonly caption: string;
  readonly columns: readonly { readonly title: string; readonly isNumber?: boolean }[];
  /** The first cell of a row is its heading. */
  readonly rows: readonly (readonly Content[])[];
  /** Class of a row, by its place. */
  readonly rowClass?: (place: number) => string;
}

/** A table in a box that scrolls by itself where the page is narrower; it can be reached by keyboard. */
export function renderTable({ caption, columns, rows, rowClass }: Table): Markup {
  const kind = (at: number): string => (columns[at]?.isNumber === true ? 'number' : 'text');
  return html`<div class="scroll" tabindex="0" role="region" aria-label="${caption}"><table class="data"><caption>${caption}</caption><thead><tr>${columns.map(
    ({ title }, at) => html`<th scope="col" class="${kind(at)}">${title}</th>`,
  )}</tr></thead><tbody>${rows.map(
    (cells, place) =>
      html`<tr class="${rowClass?.(place) ?? ''}">${cells.map((cell, at) =>
        at === 0
          ? html`<th scope="row" class="${kind(at)}">${cell}</th>`
          : html`<td class="${kind(at)}">${cell}</td>`,
      )}</tr>`,
  )}</tbody></table></div>`;
}

export function paragraphs(texts: readonly string[]): Markup {
  return html`${texts.map((text) => html`<p>${text}</p>`)}`;
}
