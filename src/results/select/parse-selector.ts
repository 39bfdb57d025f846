import { err, ok, type Result } from '../../lib/result.ts';

/** What one part of a selector asks for; several parts joined by commas make one side. */
export type SelectorPart =
  /** `results/2026…-9f3c`: this folder, wherever it is. */
  | { readonly kind: 'folder'; readonly text: string }
  /** `*bench-a*`: sittings whose names fit; `folder` null: of the results folder. */
  | {
      readonly kind: 'pattern';
      readonly text: string;
      readonly folder: string | null;
      readonly pattern: string;
    }
  /** `bench-a:latest-3`. */
  | { readonly kind: 'latest'; readonly text: string; readonly rig: string; readonly count: number }
  /** A rig label, an id or the end of one, or `latest`: what there is decides. */
  | { readonly kind: 'name'; readonly text: string };

const latestOf = /^([a-z0-9-]+):latest(?:-([1-9]\d{0,5}))?$/;

/** The parts of a selector, never empty; the error says what is wrong with it. */
export function parseSelector(text: string): Result<readonly SelectorPart[], string> {
  const parts = text.split(',').map((part) => part.trim());
  const found: SelectorPart[] = [];
  for (const part of parts) {
    if (part === '') return err(`${JSON.stringify(text)} names no sitting before or after a comma`);
    const read = parsePart(part);
    if (!read.ok) return read;
    found.push(read.value);
  }
  return ok(found);
}

function parsePart(text: string): Result<SelectorPart, string> {
  const slash = text.replace(/\/+$/, '').lastIndexOf('/');
  if (/[*?]/.test(text)) {
    const folder = slash === -1 ? null : text.slice(0, slash);
    if (folder !== null && /[*?]/.test(folder))
      return err(`${text}: * and ? stand for parts of a sitting's name, not of the folders above`);
    return ok({ kind: 'pattern', text, folder, pattern: text.slice(slash + 1) });
  }
  if (slash !== -1 || text.endsWith('/') || /^\.{1,2}$/.test(text))
    return ok({ kind: 'folder', text });
  const latest = latestOf.exec(text);
  if (latest?.[1] !== undefined)
    return ok({ kind: 'latest', text, rig: latest[1], count: Number(latest[2] ?? 1) });
  if (text.includes(':'))
    return err(`${text}: after the colon latest or latest-3 is expected, such as bench-a:latest-3`);
  return ok({ kind: 'name', text });
}
