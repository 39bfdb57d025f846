import { createHash } from 'node:crypto';
import { dirname, resolve } from 'node:path';
import { decodeText } from '../lib/decode-text.ts';
import { readSmallFile } from '../lib/read-small-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { ShippedCatalog } from '../model/shipped.ts';
import type { Suite } from '../model/suite.ts';
import { checkInputFiles } from './check-input-files.ts';
import { parseWithPlaces } from './parse-suite.ts';

export interface LoadedSuite {
  /** Frozen through and through. */
  readonly suite: Suite;
  /** The file as it is, byte order mark included. */
  readonly text: string;
  /** Of the file's bytes, hex. */
  readonly textSha256: string;
  /** Absolute path of the file. */
  readonly file: string;
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
  const bytes = await readSmallFile(path, maxSuiteBytes, 'a suite');
  if (!bytes.ok) return err([plainProblem(bytes.error.code, bytes.error.message, path)]);
  const text = decodeText(bytes.value);
  if (!text.ok) return err([plainProblem('file-not-text', text.error, path)]);
  const parsed = parseWithPlaces(text.value, path, catalog, profile);
  if (!parsed.ok) return parsed;
  const file = resolve(path);
  const folder = dirname(file);
  const problems = await checkInputFiles(parsed.value, folder);
  if (problems.length > 0) return err(problems);
  const textSha256 = createHash('sha256').update(bytes.value).digest('hex');
  return ok({ suite: parsed.value.suite, text: text.value, textSha256, file, folder });
}
