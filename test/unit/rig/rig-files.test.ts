import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rigFiles } from '../../../src/rig/rig-files.ts';
import { needs } from '../../setup/needs.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

const mkfifo = needs.program('mkfifo');

describe('the files of a rig', () => {
  it('are found through links that stay below the mount point', async () => {
    const root = temporaryFolder();
    mkdirSync(join(root, 'sys/devices/a'), { recursive: true });
    writeFileSync(join(root, 'sys/devices/a/model'), 'Example\n');
    mkdirSync(join(root, 'sys/class'));
    symlinkSync('../devices/a', join(root, 'sys/class/a'));
    const files = rigFiles(root);
    expect(await files.readText('/sys/class/a/model')).toBe('Example\n');
    expect(await files.readLink('/sys/class/a')).toBe('../devices/a');
  });

  it('do not include what a link or a path leads to outside', async () => {
    const root = join(temporaryFolder(), 'root');
    mkdirSync(join(root, 'proc'), { recursive: true });
    symlinkSync('/proc/cpuinfo', join(root, 'proc/cpuinfo'));
    symlinkSync('/', join(root, 'sys'));
    writeFileSync(join(root, '../beside'), 'secret');
    const files = rigFiles(root);
    for (const path of ['/proc/cpuinfo', '/sys/etc/hostname', '/../beside'])
      await expect(files.readText(path), path).rejects.toMatchObject({ code: 'ENOENT' });
    await expect(files.list('/sys')).rejects.toMatchObject({ code: 'ENOENT' });
  });

  it('are listed in the order of the numbers in their names', async () => {
    const root = temporaryFolder();
    for (const name of ['cpu10', 'cpu2', 'cpu0']) mkdirSync(join(root, name));
    expect(await rigFiles(root).list('/')).toEqual(['cpu0', 'cpu2', 'cpu10']);
  });

  it('are refused when larger than any kernel file', async () => {
    const root = temporaryFolder();
    writeFileSync(join(root, 'large'), Buffer.alloc(9 * 1024 * 1024, 'x'));
    await expect(rigFiles(root).readText('/large')).rejects.toMatchObject({ code: 'EFBIG' });
  });

  it.skipIf(mkfifo.missing)('are not waited for when they are named pipes', async () => {
    const root = temporaryFolder();
    execFileSync(mkfifo.path, [join(root, 'pipe')]);
    expect(await rigFiles(root).readText('/pipe')).toBe('');
  });

  it('that may not be read are refused by the system', async () => {
    const root = temporaryFolder();
    writeFileSync(join(root, 'serial'), 'x');
    chmodSync(join(root, 'serial'), 0);
    chmodSync(root, 0o755);
    // Root may read everything, so it becomes nobody for a moment.
    const isRoot = process.getuid?.() === 0;
    if (isRoot) process.seteuid?.(65_534);
    try {
      await expect(rigFiles(root).readText('/serial')).rejects.toMatchObject({ code: 'EACCES' });
    } finally {
      if (isRoot) process.seteuid?.(0);
    }
  });

  it.skipIf(process.platform !== 'linux')(
    'of this machine are read whole, though their size is given as zero',
    async () => {
      expect(await rigFiles('/').readText('/proc/self/status')).toContain(`Pid:\t${process.pid}\n`);
    },
  );
});
