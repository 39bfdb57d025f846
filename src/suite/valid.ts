import type { Result } from '../lib/result.ts';

/** The value of text that the definition has accepted already. */
export function valid<T>(parsed: Result<T, string>): T {
  if (!parsed.ok) throw new Error(`internal error: ${parsed.error}`);
  return parsed.value;
}
