import { RE2JS } from 're2js';
import { err, ok, type Result } from '../../lib/result.ts';

/**
 * The number in the first capturing group of the last match: programs print their final figure last. The engine takes
 * time linear in the text whatever the pattern (RE2), so no pattern can hang a sitting. `^` and `$` match at lines.
 */
export function readPattern(pattern: string, text: string): Result<number, string> {
  const matcher = RE2JS.compile(pattern, RE2JS.MULTILINE).matcher(text);
  let found: string | null = null;
  while (matcher.find()) found = matcher.group(1) ?? found;
  if (found === null) return err(`the pattern ${pattern} matches nowhere`);
  return parseFigure(found);
}

/** Plain decimal notation, with an exponent if need be; a decimal comma or grouping is refused, not guessed at. */
export function parseFigure(text: string): Result<number, string> {
  const trimmed = text.trim();
  if (!/^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(trimmed)) {
    return err(`"${trimmed.slice(0, 40)}" is not a number with a decimal point`);
  }
  const value = Number(trimmed);
  return Number.isFinite(value) ? ok(value) : err(`"${trimmed.slice(0, 40)}" is too large`);
}
