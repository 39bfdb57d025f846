import type { Finding } from '../../model/finding.ts';
import type { Problem } from '../../model/problem.ts';

/** Why nothing, or nothing more, is measured. */
export type Refusal =
  | { readonly kind: 'bad-option'; readonly problem: Problem }
  | { readonly kind: 'busy'; readonly problem: Problem }
  | { readonly kind: 'write-failed'; readonly problem: Problem }
  | { readonly kind: 'unfit'; readonly findings: readonly Finding[] };

export function plainProblem(code: Problem['code'], message: string): Problem {
  return { code, file: null, line: null, column: null, message };
}
