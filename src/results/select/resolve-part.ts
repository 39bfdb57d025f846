import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fitsPattern } from '../../lib/fits-pattern.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { suggest } from '../../lib/suggest.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import type { SittingHeader } from '../../model/sitting-entry.ts';
import { mayBeOfRig } from '../layout.ts';
import type { SelectorPart } from './parse-selector.ts';
import { type HeaderShelf, openShelf, readHeader } from './sitting-header.ts';

/** The sittings that a part of a selector asks for. */
export interface PartSittings {
  readonly text: string;
  /** Oldest first, never empty. */
  readonly headers: readonly SittingHeader[];
  /** Named one by one: what the operator names is taken whichever suite it is of. */
  readonly isNamed: boolean;
  /** Take so many of the newest, once the suite is chosen; null for all. */
  readonly latest: number | null;
}

/** Codes: `folder-invalid`, and those of reading `sitting.json`. */
export async function resolvePart(
  part: SelectorPart,
  shelf: HeaderShelf,
): Promise<Result<PartSittings, Problem>> {
  switch (part.kind) {
    case 'folder':
      return named(part.text, await readHeader(part.text));
    case 'pattern':
      return resolvePattern(part, shelf);
    case 'latest': {
      const headers = await ofRig(part.rig, shelf);
      if (!headers.ok) return headers;
      if (headers.value.length === 0) return err(await unknownName(part.rig, shelf));
      return ok({
        text: part.text,
        headers: headers.value,
        isNamed: false,
        latest: part.count,
      });
    }
    case 'name':
      return resolveName(part.text, shelf);
  }
}

async function resolvePattern(
  { text, folder, pattern }: Extract<SelectorPart, { kind: 'pattern' }>,
  shelf: HeaderShelf,
): Promise<Result<PartSittings, Problem>> {
  const own = folder === null ? shelf : await openShelf(folder === '' ? '/' : folder, shelf.place);
  const headers = await own.read((name) => fitsPattern(name, pattern));
  if (!headers.ok) return headers;
  if (headers.value.length > 0)
    return ok({ text, headers: headers.value, isNamed: false, latest: null });
  if (own.problem !== null) return err(own.problem);
  return err(noSitting(`no sitting in ${own.folder} fits ${text}: see steadyrig list`));
}

async function resolveName(
  text: string,
  shelf: HeaderShelf,
): Promise<Result<PartSittings, Problem>> {
  const headers = await ofRig(text, shelf);
  if (!headers.ok) return headers;
  if (headers.value.length > 0)
    return ok({ text, headers: headers.value, isNamed: false, latest: null });
  if (existsSync(join(text, 'data'))) return named(text, await readHeader(text));
  const ids =
    text === 'latest' ? shelf.names.slice(-1) : shelf.names.filter((id) => id.endsWith(text));
  const [first] = ids;
  if (first !== undefined && ids.length === 1)
    return named(text, await readHeader(join(shelf.folder, first)));
  if (ids.length > 1)
    return err(
      noSitting(
        `${text} fits ${ids.length} sittings in ${shelf.folder}, such as ${first}: give more of the id`,
      ),
    );
  return err(await unknownName(text, shelf));
}

/** Folders carry the label in their names, so others need not be read. */
async function ofRig(
  rig: string,
  shelf: HeaderShelf,
): Promise<Result<readonly SittingHeader[], Problem>> {
  const headers = await shelf.read((name) => mayBeOfRig(name, rig));
  return headers.ok ? ok(headers.value.filter((header) => header.rig === rig)) : headers;
}

function named(text: string, read: Result<SittingHeader, Problem>): Result<PartSittings, Problem> {
  return read.ok ? ok({ text, headers: [read.value], isNamed: true, latest: null }) : read;
}

async function unknownName(text: string, shelf: HeaderShelf): Promise<Problem> {
  if (shelf.problem !== null) return shelf.problem;
  const headers = await shelf.read(() => true);
  const rigs = [...new Set(headers.ok ? headers.value.map(({ rig }) => rig) : [])].sort();
  const near = suggest(text, rigs);
  const hint =
    near !== null
      ? `did you mean ${near}?`
      : rigs.length === 0
        ? 'there is no sitting in it; give another --results folder'
        : `its rigs are ${rigs.slice(0, 10).join(', ')}${rigs.length > 10 ? ` and ${rigs.length - 10} more` : ''}`;
  return noSitting(`no rig and no sitting ${text} in ${shelf.folder}: ${hint}`);
}

function noSitting(message: string): Problem {
  return plainProblem('folder-invalid', message);
}
