import { join } from 'node:path';
import { reasonOf } from '../lib/file-faults.ts';
import { isSystemError } from '../lib/is-system-error.ts';
import { readOwnFile } from '../lib/own-file.ts';
import type { SealFinding, SealReport } from '../model/seal-report.ts';
import { bagDeclaration, fileSha512, listEntries, parseManifest, tagFiles } from './bag.ts';

const bagFiles = ['bagit.txt', ...tagFiles, 'tagmanifest-sha512.txt'];

/**
 * Compares a sealed folder with its seal, file by file: which is damaged, missing or extra. Finds every change but a
 * deliberate one by somebody who makes new manifests: a seal detects damage, it does not prove authorship.
 */
export async function verifySeal(folder: string): Promise<SealReport> {
  const entries = await listEntries(folder, '');
  const present = new Set(entries.filter(({ isFile }) => isFile).map(({ path }) => path));
  const odd = new Set(entries.filter(({ isFile }) => !isFile).map(({ path }) => path));
  if (!present.has('bagit.txt'))
    return { folder, sealed: false, invented: false, checkedFiles: 0, findings: [] };
  const info = await readText(folder, 'bag-info.txt').catch(() => '');
  const invented = /^External-Description: invented/m.test(info);
  const findings: SealFinding[] = [];
  const declaration = await readText(folder, 'bagit.txt');
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
    if (odd.has(path)) {
      // Told below.
    } else if (!present.has(path)) {
      findings.push({ kind: 'missing', path, detail: 'named in the seal, but not in the folder' });
    } else {
      const fault = await checkSum(join(folder, path), sum);
      if (fault !== null) findings.push({ path, ...fault });
    }
    checkedFiles += 1;
  }
  for (const path of odd) {
    const detail = 'a link or a device; a sealed folder holds regular files alone';
    findings.push({ kind: expected.has(path) ? 'damaged' : 'extra', path, detail });
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
  const sums = parseManifest(await readText(folder, name));
  if (typeof sums !== 'string') return sums;
  findings.push({ kind: 'damaged', path: name, detail: sums });
  return new Map();
}

/** Why a file is not as sealed; null where it is. Logs of runs are for whoever measured alone. */
async function checkSum(
  path: string,
  sum: string,
): Promise<Pick<SealFinding, 'kind' | 'detail'> | null> {
  try {
    if ((await fileSha512(path)) === sum) return null;
    return { kind: 'damaged', detail: 'its SHA-512 is not the sealed one' };
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return { kind: 'unreadable', detail: `${reasonOf(error)}; ask whoever measured` };
  }
}

async function readText(folder: string, name: string): Promise<string> {
  return (await readOwnFile(join(folder, name))).toString('utf8');
}

function byPath(a: SealFinding, b: SealFinding): number {
  return a.path < b.path ? -1 : 1;
}
