export interface Column {
  readonly title: string;
  readonly align: 'left' | 'right';
}

/**
 * A plain table: columns two spaces apart, a line under the titles, no trailing blanks. Widths follow the content,
 * counted in code points (our texts hold no wide or combining characters).
 */
export function renderTable(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
): string {
  const widths = columns.map(({ title }, index) =>
    Math.max(length(title), ...rows.map((row) => length(row[index] ?? ''))),
  );
  const line = (cells: readonly string[]): string =>
    columns
      .map(({ align }, index) => pad(cells[index] ?? '', widths[index] ?? 0, align))
      .join('  ')
      .trimEnd();
  const rule = widths.map((width) => '─'.repeat(width)).join('  ');
  return [line(columns.map(({ title }) => title)), rule, ...rows.map(line)].join('\n');
}

function length(text: string): number {
  // Nearly all of the texts of a long table; taking others apart costs twenty times as much.
  if (/^[ -~]*$/.test(text)) return text.length;
  return [...text].length;
}

function pad(text: string, width: number, align: Column['align']): string {
  const blanks = ' '.repeat(Math.max(0, width - length(text)));
  return align === 'left' ? text + blanks : blanks + text;
}

/** The text cut to a width, with an ellipsis where something is missing. */
export function shorten(text: string, width: number): string {
  return length(text) <= width ? text : `${[...text].slice(0, width - 1).join('')}…`;
}

/** Cut in the middle: labels tell themselves apart by their beginning or their end. */
export function shortenMiddle(text: string, width: number): string {
  if (length(text) <= width) return text;
  const letters = [...text];
  const end = Math.floor((width - 1) / 2);
  return `${letters.slice(0, width - 1 - end).join('')}…${letters.slice(letters.length - end).join('')}`;
}

/** Lines of at most `width` characters, broken at blanks, the later ones indented. A longer word stands alone. */
export function wrapText(text: string, width: number, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter((part) => part !== '')) {
    const next = line === '' ? word : `${line} ${word}`;
    const room = lines.length === 0 ? width : width - indent.length;
    if (length(next) <= room || line === '') line = next;
    else {
      lines.push(line);
      line = word;
    }
  }
  return [...lines, line].map((part, index) => (index === 0 ? part : indent + part)).join('\n');
}
