import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem, ProblemCode } from '../model/problem.ts';
import type { ShippedCatalog } from '../model/shipped.ts';
import type { Suite } from '../model/suite.ts';
import { checkInputFiles } from './check-input-files.ts';
import { decodeText } from './decode-text.ts';
import { kindOf, reasonOf } from './file-faults.ts';
import { parseWithPlaces } from './parse-suite.ts';

export interface LoadedSuite {
  /** Frozen through and through. */
  readonly suite: Suite;
  /** The file as it is, byte order mark included. */
  readonly text: string;
  /** Of the file's bytes, hex. */
  readonly textSha256: string;
  /** Absolute; the paths of inputs are relative to it. */
  readonly folder: string;
}

/** Suites are a few kilobytes; what is larger was meant to be something else, and would only take long to refuse. */
export const maxSuiteBytes: number = 2 ** 20;

/**
 * Reads and checks a suite file in the form of a profile (null: as written), and that the inputs it names are files
 * that are there. Codes of its problems: `file-unreadable`, `file-too-large`, `file-not-text`, `yaml-syntax`,
 * `yaml-limits`, `suite-invalid`; `option-invalid` for a profile that the suite does not have.
 */
export async function loadSuite(
  path: string,
  catalog: ShippedCatalog,
  profile: string | null = null,
): Promise<Result<LoadedSuite, readonly Problem[]>> {
  const bytes = await readSuiteFile(path);
  if (!bytes.ok) return err([bytes.error]);
  const text = decodeText(bytes.value);
  if (!text.ok) return err([problem(path, 'file-not-text', text.error)]);
  const parsed = parseWithPlaces(text.value, path, catalog, profile);
  if (!parsed.ok) return parsed;
  const folder = dirname(resolve(path));
  const problems = await checkInputFiles(parsed.value, folder);
  if (problems.length > 0) return err(problems);
  const textSha256 = createHash('sha256').update(bytes.value).digest('hex');
  return ok({ suite: parsed.value.suite, text: text.value, textSha256, folder });
}

async function readSuiteFile(path: string): Promise<Result<Buffer, Problem>> {
  let handle: FileHandle | null = null;
  try {
    // Without NONBLOCK, opening a named pipe would wait for somebody to write to it.
    handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    const status = await handle.stat();
    if (!status.isFile())
      return err(problem(path, 'file-unreadable', `is ${kindOf(status)}; expected a suite file`));
    const size = status.size;
    const tooLarge = `is ${size} bytes; expected a suite of at most ${maxSuiteBytes} bytes (1 MiB)`;
    if (size > maxSuiteBytes) return err(problem(path, 'file-too-large', tooLarge));
    const buffer = Buffer.alloc(size);
    let filled = 0;
    while (filled < size) {
      const { bytesRead } = await handle.read(buffer, filled, size - filled, filled);
      if (bytesRead === 0) break;
      filled += bytesRead;
    }
    return ok(buffer.subarray(0, filled));
  } catch (cause) {
    return err(problem(path, 'file-unreadable', `cannot be read: ${reasonOf(cause)}`));
  } finally {
    await handle?.close();
  }
}

function problem(file: string, code: ProblemCode, message: string): Problem {
  return { code, file, line: null, column: null, message };
}
