import { readdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readFigures } from '../../../../src/api/compare/read-figures.ts';
import { eagerIndex, storeSittings } from '../../../setup/results-folder.ts';
import { sampleExclusion } from '../../../setup/samples.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { unwrap } from '../../../setup/unwrap.ts';

const none = { isVerified: true, exclusions: [] };

async function stored() {
  const root = temporaryFolder();
  const [name = ''] = await storeSittings(join(root, 'results'), 1);
  const index = eagerIndex(join(root, 'index'));
  const folder = join(root, 'results', name);
  const kept = (): string => {
    const own = join(index.folder, readdirSync(index.folder)[0] ?? '', 'figures');
    return join(own, readdirSync(own)[0] ?? '');
  };
  return { root, name, folder, index, kept };
}

describe('figures that are kept', () => {
  it('are those of the folder, and are asked for when nothing changed', async () => {
    const { folder, index, kept } = await stored();
    const plain = unwrap(await readFigures(folder, none));
    expect(unwrap(await readFigures(folder, { ...none, index }))).toEqual(plain);
    expect(readFileSync(kept(), 'utf8')).toContain('"values":[');
    expect(unwrap(await readFigures(folder, { ...none, index }))).toEqual(plain);
    expect(unwrap(await readFigures(folder, { ...none, isVerified: false, index }))).toEqual(plain);
  });

  it('never stand in for a look at the seal', async () => {
    const { folder, index } = await stored();
    unwrap(await readFigures(folder, { ...none, index }));
    const log = join(folder, 'data', 'runs.jsonl');
    const bytes = readFileSync(log);
    bytes[10] = (bytes[10] ?? 0) ^ 1;
    writeFileSync(log, bytes);
    for (const options of [none, { ...none, index }]) {
      const read = await readFigures(folder, options);
      expect(read.ok ? [] : read.error.map(({ message }) => message)).toEqual([
        expect.stringContaining('damaged: its SHA-512'),
      ]);
    }
  });

  it('are not used once they are damaged, nor of a folder that changed, nor kept of one that was not verified', async () => {
    const { folder, index, kept } = await stored();
    const unverified = { ...none, isVerified: false, index };
    unwrap(await readFigures(folder, unverified));
    expect(() => kept()).toThrow('ENOENT');
    const plain = unwrap(await readFigures(folder, { ...none, index }));
    const text = readFileSync(kept(), 'utf8');
    writeFileSync(kept(), text.replace('"values":[', '"values":[7,'));
    expect(unwrap(await readFigures(folder, unverified))).toEqual(plain);
    writeFileSync(kept(), text);
    rmSync(join(folder, 'data', 'logs'), { recursive: true });
    utimesSync(join(folder, 'data', 'runs.jsonl'), 1_700_000_000, 1_700_000_000);
    expect(unwrap(await readFigures(folder, unverified))).toEqual(plain);
  });

  it('are left aside where a run is excluded', async () => {
    const { folder, index } = await stored();
    unwrap(await readFigures(folder, { ...none, index }));
    const { figures } = unwrap(await readFigures(folder, none));
    const exclusions = [sampleExclusion({ sitting: figures.id, plan: 1 })];
    const read = unwrap(await readFigures(folder, { ...none, index, exclusions }));
    expect(read.figures.workloads[0]?.excluded).toEqual([0]);
    expect(read).toEqual(unwrap(await readFigures(folder, { ...none, exclusions })));
  });
});
