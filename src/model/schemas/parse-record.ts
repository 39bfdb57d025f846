import type { z } from 'zod';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../problem.ts';
import { type SchemaName, tooNew } from './version.ts';

/**
 * A record of a file by its definition; `lead` says what it is not and where, as in "not a run record: metrics.0". Codes:
 * `schema-too-new`, `record-invalid`.
 */
export function parseRecord<T>(
  value: unknown,
  name: SchemaName,
  definition: z.ZodType<T>,
  lead: (where: string) => string,
): Result<T, Pick<Problem, 'code' | 'message'>> {
  const newer = tooNew(value, name);
  if (newer !== null) return err({ code: 'schema-too-new', message: newer });
  const parsed = definition.safeParse(value);
  if (parsed.success) return ok(parsed.data);
  const [first] = parsed.error.issues;
  const message = `${lead(first?.path.join('.') ?? '')} ${first?.message ?? ''}`;
  return err({ code: 'record-invalid', message });
}
