import { groupBy } from '../../lib/group-by.ts';
import type { InventoryRow, Report } from '../../model/report.ts';
import { html, type Markup } from './html.ts';
import { renderTable, type Section } from './section.ts';

/** What was in each rig: what differs first and in full, what is alike folded away. */
export function inventorySection({ rigs, inventory }: Report): Section {
  const differing = inventory.filter(({ differs }) => differs);
  const alike = inventory.filter(({ differs }) => !differs);
  const columns = [{ title: 'reading' }, ...rigs.map(({ label }) => ({ title: label }))];
  const found =
    differing.length === 0
      ? html`<p>Nothing that could be read differs between the rigs.</p>`
      : renderTable({
          caption: 'What differs between the rigs',
          columns: [...columns, { title: 'declared?' }],
          rows: differing.map((row) => [
            name(row),
            ...cells(row),
            row.declared ? 'declared' : html`<b>not declared</b>`,
          ]),
          rowClass: (place) =>
            differing[place]?.declared === true ? 'differs' : 'differs undeclared',
        });
  const parts = [...groupBy(alike, ({ part }) => part)];
  return {
    id: 'inventory',
    title: 'What was in each rig',
    body: html`${found}${
      parts.length === 0
        ? null
        : html`<details><summary>What is alike in all rigs (${alike.length} readings)</summary>${parts.map(
            ([part, rows]) =>
              renderTable({
                caption: part,
                columns: [{ title: 'reading' }, { title: 'all rigs' }],
                rows: rows.map((row) => [row.title, row.values[0] ?? 'absent']),
              }),
          )}</details>`
    }`,
  };
}

function name({ part, title }: InventoryRow): string {
  return `${part}: ${title}`;
}

/** What is another than the first rig's stands out. */
function cells({ values }: InventoryRow): readonly Markup[] {
  const [first] = values;
  return values.map((value, at) => {
    const text = value ?? 'absent';
    return at > 0 && value !== first ? html`<mark>${text}</mark>` : html`${text}`;
  });
}
