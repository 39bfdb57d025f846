import { readFileSync } from 'node:fs';

/** A case of test/reference: values that may be copied, with their source in the file. */
// biome-ignore lint/suspicious/noExplicitAny: each case has its own shape, and a wrong one fails the test.
export function reference(id: string): any {
  return JSON.parse(readFileSync(new URL(`../../reference/${id}.json`, import.meta.url), 'utf8'));
}

/** Distance of two numbers as a share of the expected one; plain distance from zero. */
export function relative(found: number, expected: number): number {
  return Math.abs(found - expected) / (expected === 0 ? 1 : Math.abs(expected));
}
