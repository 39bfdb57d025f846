import type { z } from 'zod';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../problem.ts';
import { type SchemaName, tooNew } from './version.ts';

/**
 * A record of a file by its definition; `what` as in "not a run record". The message has no place. Codes: `schema-too-new`,
 * `record-invalid`.
 */
export function parseRecord<T>(
  value: unknown,
  name: SchemaName,
  definition: z.ZodType<T>,
  what: string,
): Result<T, Pick<Problem, 'code' | 'message'>> {
  const newer = tooNew(value, name);
  if (newer !== null) return err({ code: 'schema-too-new', message: newer });
  const parsed = definition.safeParse(value);
  if (parsed.success) return ok(parsed.data);
  const [first] = parsed.error.issues;
  const where = first?.path.join('.') ?? '';
  const message = `not ${what}: ${where} ${first?.message ?? ''}`;
  return err({ code: 'record-invalid', message });
}
