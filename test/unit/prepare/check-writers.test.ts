import { chmodSync, chownSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkWriters } from '../../../src/prepare/check-writers.ts';
import { findUser } from '../../../src/prepare/find-user.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

/** A suite file in a folder of its own, modes as given. */
function fileWith(folderMode: number, fileMode: number): { folder: string; file: string } {
  const folder = join(temporaryFolder(), 'bench');
  mkdirSync(folder);
  const file = join(folder, 'suite.yaml');
  writeFileSync(file, '');
  chmodSync(file, fileMode);
  chmodSync(folder, folderMode);
  return { folder, file };
}

const places = async (file: string) => (await checkWriters([file])).map((problem) => problem.file);

describe('checkWriters', () => {
  it('lets pass what only root or the owner can change', async () => {
    for (const [folder, file] of [
      [0o755, 0o644],
      [0o700, 0o600],
      [0o711, 0o444],
    ] as const)
      expect(await places(fileWith(folder, file).file)).toEqual([]);
  });

  it('names a file that others can write to, its mode, and what to do', async () => {
    const { file } = fileWith(0o755, 0o666);
    expect(await checkWriters([file, file])).toMatchObject([
      {
        code: 'file-writable',
        file,
        message: expect.stringMatching(/everybody can write to \(mode 0666\).*chmod go-w.*--as/),
      },
    ]);
  });

  it('names a folder in which others can put another file in its place, unless it is sticky', async () => {
    const open = fileWith(0o777, 0o644);
    expect(await places(open.file)).toEqual([open.folder]);
    expect(await places(fileWith(0o1777, 0o644).file)).toEqual([]);
    const link = join(temporaryFolder(), 'link.yaml');
    symlinkSync(open.file, link);
    expect(await places(link)).toEqual([open.folder]);
  });

  it.skipIf(process.getuid?.() !== 0)('counts a group, unless it is root’s own', async () => {
    const { file } = fileWith(0o755, 0o664);
    chownSync(file, 0, 0);
    expect(await places(file)).toEqual([]);
    chownSync(file, 0, 54_322);
    expect((await checkWriters([file]))[0]?.message).toContain('its group can write to');
  });

  it('leaves missing files to others', async () => {
    expect(await places(join(temporaryFolder(), 'none'))).toEqual([]);
  });
});

describe.skipIf(process.platform !== 'linux')('findUser', () => {
  it('tells the numbers of a user that there is', async () => {
    const nobody = unwrap(await findUser('nobody'));
    expect(nobody).toMatchObject({ name: 'nobody', uid: expect.any(Number) });
    expect(nobody.groups).toContain(nobody.gid);
    expect(unwrap(await findUser(String(nobody.uid)))).toEqual(nobody);
  });

  it.each([
    ['root', 'is root'],
    ['no-such-user', 'there is no user no-such-user'],
    ['--help', 'is no name of a user'],
    ['a b', 'is no name of a user'],
    ['', 'is no name of a user'],
  ])('refuses %j', async (name, why) => {
    expect(await findUser(name)).toMatchObject({ ok: false, error: expect.stringContaining(why) });
  });
});
