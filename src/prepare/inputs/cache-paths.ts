import { join } from 'node:path';
import type { GeneratedContent, GeneratedInput } from '../../model/suite.ts';

/** Raised whenever a generator makes other bytes, or unpacking another tree: older files are then left alone. */
const generatorRevision = 1;
const unpackRevision = 1;

const endings: Readonly<Record<GeneratedContent, string>> = {
  text: 'txt',
  binary: 'bin',
  mixed: 'mixed',
  video: 'y4m',
  'c-source': 'c',
  table: 'csv',
};

/** Where a generated input is kept: its name holds all that its bytes depend on. */
export function generatedPath(cache: string, input: GeneratedInput): string {
  const { content, sizeBytes, seed } = input;
  const name = `${content}-${sizeBytes}-${seed}.${endings[content]}`;
  return join(cache, `generated-${generatorRevision}`, name);
}

/** The folder that an archive is unpacked into, by what is in the archive. */
export function unpackedPath(cache: string, sha256: string): string {
  return join(cache, `unpacked-${unpackRevision}`, sha256);
}
