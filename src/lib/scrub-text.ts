/** A literal that may not stay in a text, and the word put in its place. */
export interface PrivateLiteral {
  readonly text: string;
  readonly placeholder: string;
}

export interface Scrubbed {
  readonly text: string;
  /** How many places were replaced. */
  readonly redactions: number;
}

// IPv6 needs at least two groups and either `::` or eight groups, so that clock times (12:34:56) stay.
const patterns: readonly { readonly pattern: RegExp; readonly placeholder: string }[] = [
  {
    pattern: /\b[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\b/gi,
    placeholder: '<uuid>',
  },
  { pattern: /\b[0-9a-f]{2}(?:[:-][0-9a-f]{2}){5}\b/gi, placeholder: '<mac>' },
  {
    pattern: /(?<![\w:])(?:[0-9a-f]{1,4}:){7}[0-9a-f]{1,4}(?![\w:])/gi,
    placeholder: '<ip>',
  },
  {
    pattern:
      /(?<![\w:])[0-9a-f]{0,4}(?::[0-9a-f]{1,4}){0,6}::(?:[0-9a-f]{1,4}(?::[0-9a-f]{1,4}){0,6})(?![\w:])/gi,
    placeholder: '<ip>',
  },
  {
    pattern:
      /(?<![\d.])(?:(?:25[0-5]|2[0-4]\d|1?\d?\d)\.){3}(?:25[0-5]|2[0-4]\d|1?\d?\d)(?![\d.])/g,
    placeholder: '<ip>',
  },
  { pattern: /(?<![\w.-])\/(?:home|Users)\/[^\s/:"'<>]+/g, placeholder: '<home>' },
  { pattern: /\b[A-Z]:\\Users\\[^\s\\:"'<>]+/g, placeholder: '<home>' },
];

function escapeForPattern(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
}

function literalPatterns(
  literals: readonly PrivateLiteral[],
): { pattern: RegExp; placeholder: string }[] {
  return [...literals]
    .filter(({ text }) => text.length >= 3)
    .sort((a, b) => b.text.length - a.text.length)
    .map(({ text, placeholder }) => ({
      // A whole word only: a short user name must not eat parts of other words.
      pattern: new RegExp(`(?<![A-Za-z0-9_])${escapeForPattern(text)}(?![A-Za-z0-9_])`, 'g'),
      placeholder,
    }));
}

/**
 * The text without addresses (MAC, IPv4, IPv6), UUIDs, home paths and the literals given. A four-part version
 * number looks like an IPv4 address and goes too: losing a word of a log is cheaper than publishing an address.
 */
export function scrubText(text: string, literals: readonly PrivateLiteral[]): Scrubbed {
  return replaceAll(text, [...literalPatterns(literals), ...patterns]);
}

/** The text without the literals given: for readings that an allow-list has let in, where four numbers are a version. */
export function scrubLiterals(text: string, literals: readonly PrivateLiteral[]): Scrubbed {
  return replaceAll(text, literalPatterns(literals));
}

function replaceAll(
  text: string,
  replacements: readonly { readonly pattern: RegExp; readonly placeholder: string }[],
): Scrubbed {
  let redactions = 0;
  let scrubbed = text;
  for (const { pattern, placeholder } of replacements) {
    scrubbed = scrubbed.replace(pattern, () => {
      redactions += 1;
      return placeholder;
    });
  }
  return { text: scrubbed, redactions };
}
