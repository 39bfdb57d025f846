import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { readOwnFile } from '../../lib/own-file.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { againstFigures } from '../../model/seal-report.ts';
import { verifySeal } from '../../results/verify.ts';

/** SHA-512 (hex) of the tag manifest of a folder that is sealed and as sealed; `folder-invalid` for any other. */
export async function checkedSeal(folder: string): Promise<Result<string, Problem>> {
  const { sealed, findings } = await verifySeal(folder);
  if (!sealed)
    return err(plainProblem('folder-invalid', 'not sealed: finish the sitting first', folder));
  const [broken] = againstFigures(findings);
  if (broken !== undefined)
    return err(
      plainProblem('folder-invalid', `${broken.kind}: ${broken.detail}`, join(folder, broken.path)),
    );
  const bytes = await readOwnFile(join(folder, 'tagmanifest-sha512.txt'));
  return ok(createHash('sha512').update(bytes).digest('hex'));
}
