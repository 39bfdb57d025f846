import { plainText } from './plain-text.ts';

/**
 * A text as Markdown that shows as it is: nothing in it can end a table cell, begin a heading, a link, a mention or HTML. What a
 * backslash does not disarm everywhere (mentions, bare addresses, HTML) becomes a character reference.
 */
export function escapeMarkdown(text: string): string {
  return plainText(text)
    .replace(/[&<>@#]/g, (one) => `&#${one.codePointAt(0)};`)
    .replace(/[\\`*_[\]|~$]/g, '\\$&')
    .replace(/^[-+=]/, '\\$&')
    .replace(/^(\d+)([.)])/, '$1\\$2')
    .replace(/:(?=\/\/)/g, '&#58;')
    .replace(/\b(www)\./gi, '$1&#46;');
}
