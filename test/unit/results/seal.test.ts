import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  mkdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { firstSum } from '../../../src/journal/format.ts';
import { openJournal } from '../../../src/journal/writer.ts';
import { parseManifest, renderManifest } from '../../../src/results/bag.ts';
import { createSittingFolder } from '../../../src/results/create-folder.ts';
import { listSittings } from '../../../src/results/list-sittings.ts';
import { readSitting } from '../../../src/results/read-sitting.ts';
import { sealSitting } from '../../../src/results/seal.ts';
import { verifySeal } from '../../../src/results/verify.ts';
import { needs } from '../../setup/needs.ts';
import { sampleInventory, sampleRun, sampleSitting } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const sitting = sampleSitting();
const at = new Date('2026-01-31T20:16:00Z');

/** An unsealed folder with one run and one log. */
async function makeFolder(): Promise<string> {
  const folder = join(temporaryFolder(), sitting.id);
  const paths = await createSittingFolder(folder, sitting, sampleInventory);
  const journal = await openJournal(paths.journal, 0, firstSum);
  await journal.append(sampleRun());
  await journal.close();
  writeFileSync(join(paths.logs, '0000-pack.stdout.txt'), 'packed 100% of it\n');
  return folder;
}

async function makeSealed(): Promise<string> {
  const folder = await makeFolder();
  await sealSitting(folder, sitting, at);
  return folder;
}

describe('sealSitting', () => {
  const bagit = needs.program('bagit');
  it.skipIf(bagit.missing)(
    'makes a bag that another BagIt implementation accepts, and refuses once changed',
    async () => {
      const folder = await makeSealed();
      execFileSync(bagit.path, ['--validate', folder], { stdio: 'pipe' });
      appendFileSync(join(folder, 'data/runs.jsonl'), ' ');
      expect(() => execFileSync(bagit.path, ['--validate', folder], { stdio: 'pipe' })).toThrow();
    },
  );

  it('leaves a folder in which every file is as sealed', async () => {
    const folder = await makeSealed();
    expect(await verifySeal(folder)).toEqual({
      folder,
      sealed: true,
      invented: false,
      checkedFiles: 7,
      findings: [],
    });
    expect(unwrap(await readSitting(folder)).sealed).toBe(true);
  });

  it('refuses a link in the data: what it leads to is not in the folder', async () => {
    const folder = await makeFolder();
    symlinkSync('/etc/hostname', join(folder, 'data/logs/odd.txt'));
    await expect(sealSitting(folder, sitting, at)).rejects.toThrow('data/logs/odd.txt');
    expect((await verifySeal(folder)).sealed).toBe(false);
  });

  it('can be done again after a crash in the middle', async () => {
    const folder = await makeSealed();
    rmSync(join(folder, 'bagit.txt'));
    writeFileSync(join(folder, 'tagmanifest-sha512.txt'), 'half a li');
    await sealSitting(folder, sitting, at);
    expect((await verifySeal(folder)).findings).toEqual([]);
  });
});

describe('verifySeal', () => {
  it('names exactly the damaged, the missing and the extra file', async () => {
    const folder = await makeSealed();
    appendFileSync(join(folder, 'data/inventory.json'), ' ');
    rmSync(join(folder, 'data/logs/0000-pack.stdout.txt'));
    writeFileSync(join(folder, 'data/extra.txt'), '');
    const { findings } = await verifySeal(folder);
    expect(findings.map(({ kind, path }) => `${kind} ${path}`)).toEqual([
      'extra data/extra.txt',
      'damaged data/inventory.json',
      'missing data/logs/0000-pack.stdout.txt',
    ]);
  });

  it('notices changes to the seal itself', async () => {
    for (const [file, change] of [
      ['manifest-sha512.txt', 'damaged'],
      ['bag-info.txt', 'damaged'],
      ['bagit.txt', 'damaged'],
    ] as const) {
      const folder = await makeSealed();
      appendFileSync(join(folder, file), '# x\n');
      const { findings } = await verifySeal(folder);
      expect(findings).toContainEqual(expect.objectContaining({ kind: change, path: file }));
    }
    const folder = await makeSealed();
    rmSync(join(folder, 'tagmanifest-sha512.txt'));
    const { findings } = await verifySeal(folder);
    expect(findings).toContainEqual(
      expect.objectContaining({ kind: 'missing', path: 'tagmanifest-sha512.txt' }),
    );
  });

  it('says that an unfinished sitting is not sealed', async () => {
    const folder = await makeFolder();
    expect(await verifySeal(folder)).toMatchObject({ sealed: false, findings: [] });
  });
});

describe('a manifest', () => {
  // RFC 8493, section 2.1.3: only CR, LF and % are encoded.
  it('carries any path', () => {
    const sum = '0'.repeat(128);
    const path = 'data/50% of\nit\r.txt';
    const text = renderManifest([[path, sum]]);
    expect(text).toBe(`${sum}  data/50%25 of%0Ait%0D.txt\n`);
    expect(parseManifest(text)).toEqual(new Map([[path, sum]]));
  });

  it('with a broken line is refused with its number', () => {
    expect(parseManifest('abc data/x\n')).toContain('line 1');
  });
});

describe('readSitting', () => {
  it('refuses a folder that is no sitting, and tells what is missing', async () => {
    const read = await readSitting(temporaryFolder());
    expect(read).toMatchObject({ error: { code: 'folder-invalid' } });
  });

  it('refuses a sitting of a newer version', async () => {
    const folder = await makeFolder();
    const path = join(folder, 'data/sitting.json');
    writeFileSync(
      path,
      readFileSync(path, 'utf8').replace('steadyrig/sitting/1', 'steadyrig/sitting/9'),
    );
    expect(await readSitting(folder)).toMatchObject({ error: { code: 'schema-too-new' } });
  });

  it('names the file and member that is wrong', async () => {
    const folder = await makeFolder();
    const path = join(folder, 'data/sitting.json');
    writeFileSync(path, readFileSync(path, 'utf8').replace('"rig": "bench-a"', '"rig": 7'));
    const read = await readSitting(folder);
    expect(read).toMatchObject({ error: { code: 'record-invalid', file: path } });
    if (!read.ok) expect(read.error.message).toContain('rig');
  });

  it('gives frozen records', async () => {
    const stored = unwrap(await readSitting(await makeFolder()));
    expect(Object.isFrozen(stored.runs[0]?.metrics)).toBe(true);
  });
});

describe('listSittings', () => {
  it('lists sittings oldest first, reports broken ones and leaves other files alone', async () => {
    const results = join(await makeSealed(), '..');
    mkdirSync(join(results, '20250101T000000Z-x-y-0000'));
    mkdirSync(join(results, 'notes'));
    const { sittings, problems } = unwrap(await listSittings(results));
    expect(sittings.map(({ sitting: { id } }) => id)).toEqual([sitting.id]);
    expect(problems).toHaveLength(1);
  });
});
