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

function escapeHtml(text: string): string {
  return visibleText(text).replace(/[&<>"']/g, (one) => references[one] ?? one);
}

/**
 * Control characters that HTML forbids, and marks that turn the direction of writing, become `\ufffd`: they could disguise what stands
 * around them. Lines and tabs stay.
 */
export function visibleText(text: string): string {
  return text.replace(
    /[^\P{Cc}\t\n\r]|[\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu,
    '\ufffd',
  );
}
