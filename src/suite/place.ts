import { LineCounter } from 'yaml';
import type { Problem, ProblemCode } from '../model/problem.ts';

/** Where a value stands in the file, and where the values within it stand. Offsets are in UTF-16 units. */
export interface Place {
  readonly offset: number;
  /** Of the key that leads to it; null at the root and in lists. */
  readonly keyOffset: number | null;
  readonly children: ReadonlyMap<string, Place>;
}

export type Path = readonly PropertyKey[];

/**
 * Offset of the value at `path`, or of its key. Where the path leads to nothing (a key that is missing), the
 * nearest thing above it: its key, or itself where it has none.
 */
export function offsetAt(root: Place, path: Path, at: 'key' | 'value'): number {
  let place = root;
  for (const part of path) {
    const child = place.children.get(String(part));
    if (child === undefined) return place.keyOffset ?? place.offset;
    place = child;
  }
  return at === 'key' ? (place.keyOffset ?? place.offset) : place.offset;
}

/** Makes problems of one file. */
export type Report = (offset: number, message: string, code: ProblemCode) => Problem;

export function reporter(file: string, text: string): Report {
  // The parser counts lines too, but misses some within values that it could not read.
  const lines = new LineCounter();
  lines.addNewLine(0);
  for (let end = text.indexOf('\n'); end !== -1; end = text.indexOf('\n', end + 1))
    lines.addNewLine(end + 1);
  return (offset, message, code) => {
    const { line, col } = lines.linePos(Math.min(offset, text.length));
    return { code, file, line, column: col, message };
  };
}
