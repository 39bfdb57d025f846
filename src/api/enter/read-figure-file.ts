import { decodeText } from '../../lib/decode-text.ts';
import { readSmallFile } from '../../lib/read-small-file.ts';
import { err, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { type FigureRow, parseFigureRows } from './figure-rows.ts';

const maxBytes = 4 * 2 ** 20;

/** The rows of a figure file, or everything that is wrong with its form. */
export async function readFigureFile(
  path: string,
): Promise<Result<readonly FigureRow[], readonly Problem[]>> {
  const bytes = await readSmallFile(path, maxBytes, 'a CSV');
  if (!bytes.ok) return err([plainProblem(bytes.error.code, bytes.error.message, path)]);
  const text = decodeText(bytes.value);
  if (text.ok) return parseFigureRows(text.value, path);
  return err([plainProblem('file-not-text', text.error, path)]);
}
