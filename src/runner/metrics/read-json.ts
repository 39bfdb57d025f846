import jsonpointer from 'jsonpointer';
import { err, ok, type Result } from '../../lib/result.ts';

/** The number at an RFC 6901 pointer in a JSON text. */
export function readJsonDocument(pointer: string, text: string): Result<number, string> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    return err(`not JSON: ${(error as Error).message}`);
  }
  return numberAt(pointer, value);
}

/** The number at a pointer in the last line that is a JSON object or array. */
export function readJsonLine(pointer: string, text: string): Result<number, string> {
  for (const line of text.split('\n').reverse()) {
    const value = parseContainer(line);
    if (value !== null) return numberAt(pointer, value);
  }
  return err('no line is a JSON object or array');
}

function parseContainer(line: string): object | null {
  if (!/^\s*[{[]/.test(line)) return null;
  try {
    return JSON.parse(line) as object;
  } catch {
    return null;
  }
}

function numberAt(pointer: string, value: unknown): Result<number, string> {
  const found: unknown =
    pointer === '' ? value : isContainer(value) ? jsonpointer.get(value, pointer) : undefined;
  if (typeof found === 'number' && Number.isFinite(found)) return ok(found);
  if (found === undefined) return err(`nothing stands at the pointer ${pointer}`);
  return err(
    `a number was expected at the pointer ${pointer}, found ${JSON.stringify(found).slice(0, 40)}`,
  );
}

function isContainer(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
