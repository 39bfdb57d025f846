export const baselinesSchema = 'steadyrig/baselines/1';

/** Named pointers to sealed sittings: a file in the repository of whoever guards something. */
export interface Baselines {
  readonly schema: typeof baselinesSchema;
  readonly baselines: Readonly<Record<string, Baseline>>;
}

export interface Baseline {
  readonly rig: string;
  readonly suite: { readonly id: string; readonly revision: number; readonly digest: string };
  /** In order of time; never empty. */
  readonly sittings: readonly BaselineSitting[];
  /** RFC 3339, UTC. */
  readonly setAt: string;
}

export interface BaselineSitting {
  /** Id: the name of its folder. */
  readonly id: string;
  /** SHA-512 (hex) of its `tagmanifest-sha512.txt`, which covers every file of it. */
  readonly seal: string;
}
