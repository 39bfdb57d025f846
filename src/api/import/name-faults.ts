import { type PrivateLiteral, scrubText } from '../../lib/scrub-text.ts';
import { id } from '../../suite/fields.ts';

const longestName = 100;

/** Why a name of a workload, metric or suite is none, with one that would do where there is one; null when it is. */
export function idFault(text: string): string | null {
  const parsed = id.safeParse(text);
  if (parsed.success) return null;
  const near = text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[-0-9]+|-+$/g, '')
    .slice(0, 64);
  const hint = id.safeParse(near).success ? `, such as \`${near}\`` : '';
  return `\`${text}\` is no name here; expected ${parsed.error.issues[0]?.message}${hint}`;
}

/** Why a sitting cannot be called so; null when it can. */
export function sittingNameFault(text: string, literals: readonly PrivateLiteral[]): string | null {
  if (text === '' || [...text].length > longestName)
    return `expected a name of 1 to ${longestName} characters`;
  if (text.trim() !== text || /\p{C}|\p{Zl}|\p{Zp}/u.test(text))
    return `${JSON.stringify(text)} has blanks around it or characters that cannot be seen; expected plain text`;
  if (/^[=+\-@]/.test(text))
    return `\`${text}\` begins like a formula, which a spreadsheet would carry out; expected a name that begins otherwise`;
  if (scrubText(text, literals).redactions > 0)
    return 'holds a user or host name, a home folder or an address, which no result may hold; expected another name';
  return null;
}
