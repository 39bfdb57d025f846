import { plainText } from './plain-text.ts';

/**
 * A text as Markdown that shows as it is: nothing in it can end a table cell, begin a heading, a link, a mention or HTML. What a
 * backslash does not disarm everywhere (mentions, bare addresses, HTML) becomes a character reference.
 */
export function escapeMarkdown(text: string): string {
  return escapeInline(text)
    .replace(/^[-+](?=\s|$)|^=/, '\\$&')
    .replace(/^(\d+)([.)])(?=\s|$)/, '$1\\$2');
}

/** The same for a text that does not begin a line, such as that of a table cell. */
export function escapeInline(text: string): string {
  return plainText(text)
    .replace(/[&<>@#]/g, (one) => `&#${one.codePointAt(0)};`)
    .replace(/[\\`*_[\]|~$]/g, '\\$&')
    .replace(/:(?=\/\/)/g, '&#58;')
    .replace(/\b(www)\./gi, '$1&#46;');
}
