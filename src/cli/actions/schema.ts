import type { FileKind } from '../../api/file-schema.ts';
import { fileSchema } from '../../api/file-schema.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { printJson } from '../print.ts';

export async function schema(kind: FileKind): Promise<ExitCode> {
  printJson(fileSchema(kind));
  return exitCodes.fine;
}
