import { err, ok, type Result } from '../../lib/result.ts';
import { type GeneratedContent, generatedContents } from '../../model/suite.ts';

/** What to generate, and where to. */
export interface GenerateRequest {
  readonly content: GeneratedContent;
  readonly sizeBytes: number;
  /** 32-bit unsigned integer. */
  readonly seed: number;
  readonly path: string;
}

const expected =
  'expected one argument, a JSON object of content, sizeBytes, seed and path (an absolute one)';

/** The request from the program's one argument; the error is a sentence for stderr. */
export function parseRequest(argument: string | undefined): Result<GenerateRequest, string> {
  const written = parseObject(argument);
  if (written === null) return err(`no request: ${expected}`);
  const { content, sizeBytes, seed, path } = written;
  const known = generatedContents.find((one) => one === content);
  if (known === undefined)
    return err(
      `content is ${JSON.stringify(content)}, expected one of ${generatedContents.join(', ')}`,
    );
  if (!isWhole(sizeBytes, 2 ** 50))
    return err(`sizeBytes is no whole number of bytes: ${expected}`);
  if (!isWhole(seed, 2 ** 32 - 1)) return err(`seed is no whole number below 2^32: ${expected}`);
  if (typeof path !== 'string' || path === '') return err(`path is no text: ${expected}`);
  return ok({ content: known, sizeBytes, seed, path });
}

function isWhole(value: unknown, most: number): value is number {
  return Number.isInteger(value) && Number(value) >= 0 && Number(value) <= most;
}

function parseObject(text: string | undefined): Readonly<Record<string, unknown>> | null {
  try {
    const value: unknown = JSON.parse(text ?? '');
    return typeof value === 'object' && value !== null ? { ...value } : null;
  } catch {
    return null;
  }
}
