import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { encodeLine, firstSum } from '../../../../src/journal/format.ts';
import type { IndexPlace } from '../../../../src/results/index/index-place.ts';
import { listEntries } from '../../../../src/results/list-entries.ts';
import { selectSittings } from '../../../../src/results/select/select-sittings.ts';
import { eagerIndex, putFolder, storeSittings, touch } from '../../../setup/results-folder.ts';
import { sampleRun } from '../../../setup/samples.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { unwrap } from '../../../setup/unwrap.ts';

/** The one index file below a place. */
function indexFile({ folder }: IndexPlace): string {
  const [own = 'none'] = readdirSync(folder);
  return join(folder, own, 'sittings.jsonl');
}

async function settings(count: number): Promise<{
  results: string;
  names: readonly string[];
  place: IndexPlace;
}> {
  const folder = temporaryFolder();
  const results = join(folder, 'results');
  return {
    results,
    names: await storeSittings(results, count),
    place: eagerIndex(join(folder, 'index')),
  };
}

/** Leaves its file as large as it was: only its time of change tells. */
function flipByte(path: string, at: number): void {
  const bytes = readFileSync(path);
  const place = at % bytes.length;
  bytes[place] = (bytes[place] ?? 0) ^ 1;
  writeFileSync(path, bytes);
  touch(path);
}

/** One thing that can happen to a results folder, or to an index, between two commands. */
interface Change {
  readonly kind: keyof typeof changes;
  /** Of a sitting, and of another one. */
  readonly which: number;
  readonly by: number;
  /** A place in a file. */
  readonly at: number;
}

interface Stage {
  readonly results: string;
  readonly names: readonly string[];
  readonly place: IndexPlace;
  /** Untouched copies. */
  readonly spare: string;
}

type Apply = (folder: string, change: Change, stage: Stage) => void;

const data = ['sitting.json', 'inventory.json', 'runs.jsonl'];

const changes = {
  nothing: () => undefined,
  add: (folder, { which }, { spare, names }) => putFolder(join(spare, names[which] ?? ''), folder),
  remove: (folder) => rmSync(folder, { recursive: true, force: true }),
  replace: (folder, { by }, { spare, names }) => putFolder(join(spare, names[by] ?? ''), folder),
  unseal: (folder) => rmSync(join(folder, 'bagit.txt'), { force: true }),
  seal: onlyWhereThere((folder) => writeFileSync(join(folder, 'bagit.txt'), 'sealed')),
  continue: onlyWhereThere((folder) => {
    const journal = join(folder, 'data', 'runs.jsonl');
    const text = readFileSync(journal, 'utf8');
    const sum = /"sum":"(\w+)"\}\n$/.exec(text)?.[1] ?? firstSum;
    writeFileSync(journal, text + encodeLine(sampleRun({ plan: 9 }), sum).text);
    touch(journal);
  }),
  damage: onlyWhereThere((folder, { by, at }) =>
    flipByte(join(folder, 'data', data[by % 3] ?? ''), at),
  ),
  'damage-index': onlyWhereIndexed((path, { at }) => flipByte(path, at)),
  'cut-index': onlyWhereIndexed((path, { at }) => {
    const bytes = readFileSync(path);
    writeFileSync(path, bytes.subarray(0, at % bytes.length));
  }),
  'delete-index': (_, __, { place }) => rmSync(place.folder, { recursive: true, force: true }),
} as const satisfies Readonly<Record<string, Apply>>;

function onlyWhereThere(apply: Apply): Apply {
  return (folder, change, stage) => {
    if (existsSync(folder)) apply(folder, change, stage);
  };
}

function onlyWhereIndexed(apply: (path: string, change: Change) => void): Apply {
  return (_, change, { place }) => {
    if (existsSync(place.folder) && existsSync(indexFile(place))) apply(indexFile(place), change);
  };
}

const place = fc.nat(5);
const anyChange: fc.Arbitrary<Change> = fc.record({
  kind: fc.constantFrom(...(Object.keys(changes) as Change['kind'][])),
  which: place,
  by: place,
  at: fc.nat(),
});

describe('an index of a results folder', () => {
  it('gives what the folders give, whatever happens to them and to it in between', async () => {
    const { results, names, place } = await settings(6);
    const spare = join(results, '../spare');
    for (const name of names) putFolder(join(results, name), join(spare, name));
    const stage = { results, names, place, spare };
    await fc.assert(
      fc.asyncProperty(fc.array(anyChange, { minLength: 1, maxLength: 8 }), async (all) => {
        for (const name of names) putFolder(join(spare, name), join(results, name));
        for (const change of all) {
          const apply: Apply = changes[change.kind];
          apply(join(results, names[change.which] ?? ''), change, stage);
          // Half of the time the index is met by a selection first, which reads headers only.
          if (change.at % 2 === 0) await expectSameSelections(stage);
          expect(await listEntries(results, place)).toEqual(await listEntries(results, null));
          await expectSameSelections(stage);
        }
      }),
      { numRuns: 12, seed: 20_260_131 },
    );
  }, 60_000);

  it('is asked for sealed folders instead of reading them, and never for open ones', async () => {
    const { results, names, place } = await settings(4);
    const [open = '', sealed = ''] = names;
    rmSync(join(results, open, 'bagit.txt'));
    const before = unwrap(await listEntries(results, place)).entries;
    const text = readFileSync(indexFile(place), 'utf8');
    expect(text).toContain(sealed);
    expect(text).not.toContain(open);
    // A lie in it is told on: so it was asked.
    const lie = text.replaceAll('"bench-b"', '"bench-z"');
    writeFileSync(indexFile(place), withSum(lie));
    const after = unwrap(await listEntries(results, place)).entries;
    expect(before.map(({ rig }) => rig)).toEqual(['bench-a', 'bench-b', 'bench-a', 'bench-b']);
    expect(after.map(({ rig }) => rig)).toEqual(['bench-a', 'bench-z', 'bench-a', 'bench-z']);
  });

  it('keeps nothing of folders that were written a moment ago: another change might not show', async () => {
    const { results, place } = await settings(3);
    await listEntries(results, { ...place, now: Date.now });
    expect(readdirSync(join(place.folder, '..'))).not.toContain('index');
  });

  it('is not used by another version of the tool, nor for another folder', async () => {
    const { results, place } = await settings(3);
    await listEntries(results, place);
    const text = readFileSync(indexFile(place), 'utf8');
    writeFileSync(indexFile(place), withSum(text.replaceAll('"bench-b"', '"bench-z"')));
    const rigs = async (from: string, tool: string): Promise<readonly string[]> =>
      unwrap(await listEntries(from, { ...place, tool })).entries.map(({ rig }) => rig);
    expect(await rigs(results, '0.0.1')).toEqual(['bench-a', 'bench-b', 'bench-a']);
    const moved = `${results}-moved`;
    renameSync(results, moved);
    expect(await rigs(moved, '0.0.0')).toEqual(['bench-a', 'bench-b', 'bench-a']);
  });

  it('does without where it cannot be written, and is not kept for a few sittings', async () => {
    const { results, place } = await settings(3);
    writeFileSync(place.folder, 'a file where a folder should be');
    expect(unwrap(await listEntries(results, place)).entries).toHaveLength(3);
    rmSync(place.folder);
    await listEntries(results, { ...place, fewest: 4 });
    expect(readdirSync(join(place.folder, '..'))).toEqual(['results']);
  });

  it('forgets what is gone: sittings with the next list, whole folders with the next new index', async () => {
    const { results, names, place } = await settings(3);
    await listEntries(results, place);
    const first = indexFile(place);
    rmSync(join(results, names[0] ?? ''), { recursive: true });
    await listEntries(results, place);
    expect(readFileSync(first, 'utf8')).not.toContain(names[0]);
    const other = `${results}-other`;
    renameSync(results, other);
    await listEntries(other, place);
    expect(readdirSync(place.folder)).toHaveLength(1);
    expect(indexFile(place)).not.toBe(first);
  });

  it('is whole whatever two processes at once do to it', async () => {
    const { results, place } = await settings(4);
    const lists = await Promise.all(Array.from({ length: 8 }, () => listEntries(results, place)));
    for (const list of lists) expect(list).toEqual(lists[0]);
    expect(await listEntries(results, place)).toEqual(lists[0]);
    expect(readdirSync(join(indexFile(place), '..'))).toEqual(['sittings.jsonl']);
  });
});

async function expectSameSelections({ results, place: index }: Stage): Promise<void> {
  for (const selectors of [['bench-a', 'bench-b'], ['bench-b:latest-2'], ['*bench-a*']])
    expect(await selectSittings(selectors, { results, suite: null, index })).toEqual(
      await selectSittings(selectors, { results, suite: null }),
    );
}

/** The index with the sum that its second line now has. */
function withSum(text: string): string {
  const [head = '', second = ''] = text.split('\n');
  const sum = createHash('sha256').update(second).digest('hex');
  return `${head.replace(/"sha256":"\w+"/, `"sha256":"${sum}"`)}\n${second}\n`;
}
