import type { Input } from '../model/suite.ts';
import { parseSize } from './quantity.ts';
import { valid } from './valid.ts';
import type { WrittenInput } from './written.ts';

/** Inputs by name, sizes in bytes. */
export function resolveInputs(
  written: Readonly<Record<string, WrittenInput>>,
): Readonly<Record<string, Input>> {
  return Object.fromEntries(
    Object.entries(written).map(([name, input]) => [name, resolveInput(input)]),
  );
}

function resolveInput(written: WrittenInput): Input {
  const sha256 = written.sha256?.toLowerCase() ?? null;
  if ('path' in written) return { kind: 'file', path: written.path, sha256 };
  if ('archive' in written) return { kind: 'archive', path: written.archive, sha256 };
  const { generate: content, size, seed } = written;
  return { kind: 'generated', content, sizeBytes: valid(parseSize(size)), seed, sha256 };
}
