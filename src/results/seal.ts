import { createHash } from 'node:crypto';
import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { writeFileDurably } from '../lib/durable-fs.ts';
import { isMarkedInvented } from '../model/is-marked-invented.ts';
import type { Sitting } from '../model/sitting.ts';
import { bagDeclaration, fileSha512, listEntries, renderManifest, tagFiles } from './bag.ts';

/**
 * Makes the sitting's folder a BagIt bag. `bagit.txt` is written last and whole: without it the folder is not
 * sealed, and sealing again starts from the beginning. Rejects when a file cannot be read or written.
 */
export async function sealSitting(folder: string, sitting: Sitting, sealedAt: Date): Promise<void> {
  await sealBag(folder, (oxum) => renderBagInfo(sitting, sealedAt, oxum));
}

/** Seals what lies in `data`; `info` makes `bag-info.txt` of the payload's bytes and number of files. */
export async function sealBag(folder: string, info: (oxum: string) => string): Promise<void> {
  if ((await lstat(join(folder, 'data'))).isSymbolicLink())
    throw new Error(`cannot seal ${folder}: data is a symbolic link; put the folder itself there`);
  const entries = await listEntries(folder, 'data');
  const alien = entries.find((entry) => !entry.isFile);
  if (alien !== undefined) {
    throw new Error(`cannot seal ${folder}: ${alien.path} is not a regular file; remove it`);
  }
  let bytes = 0;
  const sums: [string, string][] = [];
  for (const { path } of entries) {
    bytes += (await lstat(join(folder, path))).size;
    sums.push([path, await fileSha512(join(folder, path))]);
  }
  await writeFileDurably(join(folder, 'manifest-sha512.txt'), renderManifest(sums));
  await writeFileDurably(join(folder, 'bag-info.txt'), info(`${bytes}.${entries.length}`));
  const tagSums: [string, string][] = [];
  for (const name of tagFiles) {
    tagSums.push([name, await fileSha512(join(folder, name))]);
  }
  // bagit.txt has a fixed text, so its sum is known before the file that ends the sealing is written.
  tagSums.unshift(['bagit.txt', createHash('sha512').update(bagDeclaration).digest('hex')]);
  await writeFileDurably(join(folder, 'tagmanifest-sha512.txt'), renderManifest(tagSums));
  await writeFileDurably(join(folder, 'bagit.txt'), bagDeclaration);
}

/** Labels of RFC 8493 section 2.2.2; values hold no line ends, since they are ids and numbers of ours. */
function renderBagInfo(sitting: Sitting, sealedAt: Date, oxum: string): string {
  const lines: [string, string][] = [
    ['Bag-Software-Agent', `${sitting.tool.name} ${sitting.tool.version}`],
    ['Bagging-Date', sealedAt.toISOString().slice(0, 10)],
    ['External-Identifier', sitting.id],
    ['Payload-Oxum', oxum],
  ];
  if (isMarkedInvented(sitting.conditions.notes)) {
    lines.push(['External-Description', 'invented data, as the notes in sitting.json say']);
  }
  return renderInfo(lines);
}

/** Values without line ends. */
export function renderInfo(lines: readonly (readonly [label: string, value: string])[]): string {
  return lines.map(([label, value]) => `${label}: ${value}\n`).join('');
}
