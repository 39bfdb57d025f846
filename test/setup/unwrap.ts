import type { Result } from '../../src/lib/result.ts';

/** The value of a result that a test expects to be good; fails the test with the error otherwise. */
export function unwrap<T, E>(result: Result<T, E>): T {
  if (result.ok) return result.value;
  throw new Error(`expected a value, got ${JSON.stringify(result.error)}`);
}
