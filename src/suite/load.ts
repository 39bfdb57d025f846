import { createHash } from 'node:crypto';
import { constants, type Stats } from 'node:fs';
import { type FileHandle, open, realpath, stat } from 'node:fs/promises';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem, ProblemCode } from '../model/problem.ts';
import type { ShippedCatalog } from '../model/shipped.ts';
import type { Suite } from '../model/suite.ts';
import { decodeText } from './decode-text.ts';
import { type ParsedSuite, parseWithPlaces } from './parse-suite.ts';

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
 * Reads and checks a suite file, and that the inputs it names are files in its folder. Codes of its problems:
 * `file-unreadable`, `file-too-large`, `file-not-text`, `yaml-syntax`, `yaml-limits`, `suite-invalid`. The
 * checksums of inputs are not looked at, for inputs may be large.
 */
export async function loadSuite(
  path: string,
  catalog: ShippedCatalog,
): Promise<Result<LoadedSuite, readonly Problem[]>> {
  const bytes = await readSuiteFile(path);
  if (!bytes.ok) return err([bytes.error]);
  const text = decodeText(bytes.value);
  if (!text.ok) return err([problem(path, 'file-not-text', text.error)]);
  const parsed = parseWithPlaces(text.value, path, catalog);
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

/** Each input must be a file that is there and, symbolic links followed, still within the suite's folder. */
async function checkInputFiles(
  { suite, problemAt }: ParsedSuite,
  folder: string,
): Promise<Problem[]> {
  const problems: Problem[] = [];
  const root = await realpath(folder);
  for (const [index, { inputs }] of suite.workloads.entries())
    for (const [name, { path }] of Object.entries(inputs)) {
      const fault = await inputFault(root, path);
      const place = ['workloads', index, 'inputs', name, 'path'];
      if (fault !== null)
        problems.push(problemAt(place, `input \`${name}\`: \`${path}\` ${fault}`));
    }
  return problems;
}

async function inputFault(root: string, path: string): Promise<string | null> {
  try {
    const real = await realpath(join(root, path));
    const below = relative(root, real);
    if (below === '..' || below.startsWith(`..${sep}`) || resolve(below) === below)
      return "leads out of the suite's folder by a symbolic link; expected a file within it";
    const status = await stat(real);
    return status.isFile() ? null : `is ${kindOf(status)}; expected a file`;
  } catch (cause) {
    return `cannot be read: ${reasonOf(cause)}; expected a file relative to the suite's folder`;
  }
}

function problem(file: string, code: ProblemCode, message: string): Problem {
  return { code, file, line: null, column: null, message };
}

function kindOf(status: Stats): string {
  if (status.isDirectory()) return 'a folder';
  if (status.isFIFO()) return 'a named pipe';
  if (status.isSocket()) return 'a socket';
  return status.isFile() ? 'a file' : 'a device';
}

const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'no such file',
  EACCES: 'not permitted',
  EPERM: 'not permitted',
  ENOTDIR: 'a part of the path is no folder',
  ELOOP: 'symbolic links that lead in a circle',
  ENAMETOOLONG: 'the name is too long',
  EISDIR: 'it is a folder',
  ENXIO: 'it is a socket or a pipe',
};

function reasonOf(cause: unknown): string {
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : 'unknown';
  return reasons[code] ?? code;
}
