import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { readLogs } from '../../../../src/api/report/publish/read-logs.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';

it('takes logs by the names that the tool gives, and follows no link and no id out of the folder', async () => {
  const folder = temporaryFolder();
  const logs = join(folder, 'good/data/logs');
  mkdirSync(logs, { recursive: true });
  writeFileSync(join(logs, '0001-pack.stdout.txt'), 'own');
  writeFileSync(join(logs, 'notes.txt'), 'not of a run');
  writeFileSync(join(folder, 'secret.txt'), 'secret');
  symlinkSync(join(folder, 'secret.txt'), join(logs, '0002-pack.stdout.txt'));
  mkdirSync(join(folder, 'linked/data'), { recursive: true });
  symlinkSync(logs, join(folder, 'linked/data/logs'));
  const found = await readLogs(
    new Map([
      ['20260101T000000Z-bench-a-desk-0001', join(folder, 'good')],
      ['20260101T000000Z-bench-a-desk-0002', join(folder, 'linked')],
      ['../../../../escaped', join(folder, 'good')],
      ['..', join(folder, 'good')],
    ]),
  );
  expect([...found]).toEqual([
    ['logs/20260101T000000Z-bench-a-desk-0001/0001-pack.stdout.txt', 'own'],
  ]);
});
