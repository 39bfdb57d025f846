import type { Finding } from '../../model/finding.ts';
import type { Problem } from '../../model/problem.ts';
import type { RigChange } from '../../model/sitting.ts';

/** Why nothing, or nothing more, is measured. */
export type Refusal =
  | { readonly kind: 'bad-option'; readonly problem: Problem }
  /** A result folder that cannot be continued. */
  | { readonly kind: 'bad-folder'; readonly problem: Problem }
  | { readonly kind: 'busy'; readonly problem: Problem }
  | { readonly kind: 'write-failed'; readonly problem: Problem }
  | { readonly kind: 'unfit'; readonly findings: readonly Finding[] }
  /** A service that continued a sitting at boot does so no more. */
  | { readonly kind: 'gave-up'; readonly problem: Problem }
  /** The rig is no longer what it was when its sitting began. */
  | { readonly kind: 'changed'; readonly changes: readonly RigChange[] };
