import { parseSummed, renderSummed } from '../../lib/summed-text.ts';
import type { RunCounts, SittingHeader } from '../../model/sitting-entry.ts';
import { type Identity, identityLength } from './identity.ts';

/** What is known of a sealed sitting, and of which state of its folder. */
export interface IndexedSitting {
  readonly identity: Identity;
  readonly header: Omit<SittingHeader, 'folder'>;
  /** Null where nobody has read its runs yet. */
  readonly counts: RunCounts | null;
}

/** By the names of folders. */
export type IndexedSittings = ReadonlyMap<string, IndexedSitting>;

/** What an index is about; one of another origin is not used. */
export interface IndexOrigin {
  /** Absolute path of the results folder, links resolved. */
  readonly results: string;
  /** Version of the tool that wrote it: another one may count otherwise. */
  readonly tool: string;
}

/** To be raised when other facts are kept, or the same ones are derived otherwise. */
const schema = 'steadyrig/index/1';

type Packed = readonly [
  name: string,
  /** 0: the name. */
  id: string | 0,
  rig: string,
  levels: number,
  startedAt: string,
  state: SittingHeader['state'],
  suite: number,
  isAgain: 0 | 1,
  accepted: SittingHeader['accepted'] | 0,
  counts:
    | readonly [imported: 0 | 1, invented: 0 | 1, number, number, number, parked: readonly string[]]
    | 0,
];

interface Content {
  /** Of all sittings, one after the other: numbers of eight bytes as this kind of machine keeps them, in base64. */
  readonly identities: string;
  readonly suites: readonly (readonly [id: string, digest: string])[];
  readonly levels: readonly SittingHeader['levels'][];
  readonly sittings: readonly Packed[];
}

/**
 * An index as a file; see `renderSummed`. Suites and levels are told once each.
 */
export function renderIndex(sittings: IndexedSittings, { results, tool }: IndexOrigin): string {
  const suites = new Shelf<readonly [string, string]>();
  const levels = new Shelf<SittingHeader['levels']>();
  const identities = new Float64Array(sittings.size * identityLength);
  const packed: Packed[] = [];
  for (const [name, { identity, header, counts }] of sittings) {
    identities.set(identity, packed.length * identityLength);
    packed.push([
      name,
      header.id === name ? 0 : header.id,
      header.rig,
      levels.place(header.levels),
      header.startedAt,
      header.state,
      suites.place([header.suite, header.digest]),
      header.isAgain ? 1 : 0,
      header.accepted.length === 0 ? 0 : header.accepted,
      counts === null ? 0 : packCounts(counts),
    ]);
  }
  const content: Content = {
    identities: Buffer.from(identities.buffer).toString('base64'),
    suites: suites.values,
    levels: levels.values,
    sittings: packed,
  };
  return renderSummed({ schema, tool, results }, content);
}

/** The results folder that an index is about; null for what is no index. Its content is not looked at. */
export function indexedFolder(firstLine: string): string | null {
  try {
    const { results } = JSON.parse(firstLine) as { readonly results?: unknown };
    return typeof results === 'string' ? results : null;
  } catch {
    return null;
  }
}

/** Null where the file is damaged, of another schema version, or of another origin: then it is made anew. */
export function parseIndex(bytes: Buffer, { results, tool }: IndexOrigin): IndexedSittings | null {
  const content = parseSummed(bytes, { schema, tool, results });
  return content === null ? null : unpack(content as Content);
}

function unpack({ identities, suites, levels, sittings }: Content): IndexedSittings {
  // A copy: the parts of a pool do not begin at a multiple of eight.
  const numbers = new Float64Array(new Uint8Array(Buffer.from(identities, 'base64')).buffer);
  return new Map(
    sittings.map((packed, index) => {
      const [name, id, rig, level, startedAt, state, suite, isAgain, accepted, counts] = packed;
      const [suiteId = '', digest = ''] = suites[suite] ?? [];
      const header = {
        id: id === 0 ? name : id,
        rig,
        levels: levels[level] ?? {},
        startedAt,
        state,
        suite: suiteId,
        digest,
        isAgain: isAgain === 1,
        accepted: accepted === 0 ? [] : accepted,
      };
      const identity = numbers.subarray(index * identityLength, (index + 1) * identityLength);
      return [name, { identity, header, counts: counts === 0 ? null : unpackCounts(counts) }];
    }),
  );
}

function packCounts(counts: RunCounts): Exclude<Packed[9], 0> {
  const { imported, invented, runs, failedRuns, attempts, parked } = counts;
  return [imported ? 1 : 0, invented ? 1 : 0, runs, failedRuns, attempts, parked];
}

function unpackCounts(counts: Exclude<Packed[9], 0>): RunCounts {
  const [imported, invented, runs, failedRuns, attempts, parked] = counts;
  return {
    imported: imported === 1,
    invented: invented === 1,
    runs,
    failedRuns,
    attempts,
    parked,
  };
}

/** Values each kept once, by their places. */
class Shelf<T> {
  readonly values: T[] = [];
  readonly #places = new Map<string, number>();

  place(value: T): number {
    const key = JSON.stringify(value);
    const known = this.#places.get(key);
    if (known !== undefined) return known;
    this.#places.set(key, this.values.length);
    return this.values.push(value) - 1;
  }
}
