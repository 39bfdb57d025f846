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
  readonly columns: readonly Column[];
  /** The first cell of a row is its heading. */
  readonly rows: readonly (readonly Content[])[];
  /** Class of a row, by its place. */
  readonly rowClass?: (place: number) => string;
}

export interface Column {
  readonly title: string;
  readonly isNumber?: boolean;
  /** Sentences or long codes: the column keeps a width in which they can be read. */
  readonly isLong?: boolean;
}

/** A table in a box that scrolls by itself where the page is narrower; it can be reached by keyboard. */
export function renderTable({ caption, columns, rows, rowClass }: Table): Markup {
  const kind = columns.map(classOf);
  const table = html`<table class="data"><caption>${caption}</caption><thead><tr>${columns.map(
    ({ title }, at) => html`<th scope="col"${kind[at] ?? null}>${title}</th>`,
  )}</tr></thead><tbody>${rows.map(
    (cells, place) =>
      html`<tr${rowClass === undefined ? null : html` class="${rowClass(place)}"`}>${cells.map(
        (cell, at) =>
          at === 0
            ? html`<th scope="row"${kind[at] ?? null}>${cell}</th>`
            : html`<td${kind[at] ?? null}>${cell}</td>`,
      )}</tr>`,
  )}</tbody></table>`;
  return scrollBox(caption, table);
}

function classOf({ isNumber, isLong }: Column): Markup | null {
  if (isNumber === true) return html` class="number"`;
  return isLong === true ? html` class="long"` : null;
}

/** A box that scrolls by itself where the page is narrower than what is in it. */
export function scrollBox(label: string, body: Markup): Markup {
  return html`<div class="scroll" tabindex="0" role="region" aria-label="${label}">${body}</div>`;
}

export function paragraphs(texts: readonly string[]): Markup {
  return html`${texts.map((text) => html`<p>${text}</p>`)}`;
}
