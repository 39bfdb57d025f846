import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { SealFinding, SealReport } from '../model/seal-report.ts';
import { bagDeclaration, fileSha512, listEntries, parseManifest, tagFiles } from './bag.ts';

const bagFiles = ['bagit.txt', ...tagFiles, 'tagmanifest-sha512.txt'];

/**
 * Compares a sealed folder with its seal, file by file: which is damaged, missing or extra. Finds every change but a
 * deliberate one by somebody who makes new manifests: a seal detects damage, it does not prove authorship.
 */
export async function verifySeal(folder: string): Promise<SealReport> {
  const present = new Set((await listEntries(folder, '')).map((entry) => entry.path));
  if (!present.has('bagit.txt'))
    return { folder, sealed: false, invented: false, checkedFiles: 0, findings: [] };
  const info = await readFile(join(folder, 'bag-info.txt'), 'utf8').catch(() => '');
  const invented = /^External-Description: invented/m.test(info);
  const findings: SealFinding[] = [];
  const declaration = await readFile(join(folder, 'bagit.txt'), 'utf8');
  if (declaration !== bagDeclaration) {
    findings.push({
      kind: 'damaged',
      path: 'bagit.txt',
      detail: 'not the declaration of a BagIt 1.0 bag',
    });
  }
  const tags = await readManifest(folder, 'tagmanifest-sha512.txt', present, findings);
  const payload = await readManifest(folder, 'manifest-sha512.txt', present, findings);
  const expected = new Map([...tags, ...payload]);
  let checkedFiles = 0;
  for (const [path, sum] of expected) {
    if (!present.has(path)) {
      findings.push({ kind: 'missing', path, detail: 'named in the seal, but not in the folder' });
    } else if ((await fileSha512(join(folder, path))) !== sum) {
      findings.push({ kind: 'damaged', path, detail: 'its SHA-512 is not the sealed one' });
    }
    checkedFiles += 1;
  }
  for (const path of present) {
    if (!expected.has(path) && !bagFiles.includes(path)) {
      findings.push({ kind: 'extra', path, detail: 'in the folder, but not in the seal' });
    }
  }
  return { folder, sealed: true, invented, checkedFiles, findings: findings.sort(byPath) };
}

async function readManifest(
  folder: string,
  name: string,
  present: ReadonlySet<string>,
  findings: SealFinding[],
): Promise<ReadonlyMap<string, string>> {
  if (!present.has(name)) {
    findings.push({ kind: 'missing', path: name, detail: 'the seal is not whole' });
    return new Map();
  }
  const sums = parseManifest(await readFile(join(folder, name), 'utf8'));
  if (typeof sums !== 'string') return sums;
  findings.push({ kind: 'damaged', path: name, detail: sums });
  return new Map();
}

function byPath(a: SealFinding, b: SealFinding): number {
  return a.path < b.path ? -1 : 1;
}
