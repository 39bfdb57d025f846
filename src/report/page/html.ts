/**
 * HTML text that is sure to be markup. Only `html` and `markup` make it, so that whatever else is put into a page is escaped by
 * construction.
 */
export class Markup {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
  toString(): string {
    return this.text;
  }
}

export type Content = Markup | string | number | null | false | readonly Content[];

/** A piece of HTML; values are escaped, for text and for attributes in double quotes alike, unless they are `Markup`. Lists are joined, null and false are nothing. */
export function html(parts: TemplateStringsArray, ...values: readonly Content[]): Markup {
  let text = parts[0] ?? '';
  for (const [index, value] of values.entries())
    text += contentText(value) + (parts[index + 1] ?? '');
  return new Markup(text);
}

/** Takes a text for markup as it is: for what this project has made itself. */
export function markup(text: string): Markup {
  return new Markup(text);
}

function contentText(value: Content): string {
  if (value instanceof Markup) return value.text;
  if (Array.isArray(value)) return value.map(contentText).join('');
  return value === null || value === false ? '' : escapeHtml(String(value));
}

const references: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Control characters that HTML forbids become the replacement character. */
function escapeHtml(text: string): string {
  return text
    .replace(/[&<>"']/g, (one) => references[one] ?? one)
    .replace(/[^\P{Cc}\t\n\r]/gu, '\ufffd');
}
