import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { compileCheck } from '../../../src/lib/compile-check.ts';
import { inventorySchemaDefinition } from '../../../src/model/schemas/inventory-schema.ts';
import { runRecordSchema } from '../../../src/model/schemas/run-schema.ts';
import { sittingFileSchema } from '../../../src/model/schemas/sitting-schema.ts';
import { sampleInventory, sampleRun, sampleSitting } from '../../setup/samples.ts';

type Path = readonly (string | number)[];

function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  return [
    path,
    ...Object.entries(value).flatMap(([key, part]) =>
      pathsOf(part, [...path, Array.isArray(value) ? Number(key) : key]),
    ),
  ];
}

/** A copy in which what stands at the path is replaced, removed or given one member more. */
function changed(
  value: unknown,
  path: Path,
  how: 'replace' | 'remove' | 'add',
  by: unknown,
): unknown {
  const copy = structuredClone(value) as Record<string | number, unknown>;
  const last = path.at(-1);
  if (last === undefined) return how === 'add' ? { ...copy, extra: by } : by;
  let at = copy;
  for (const key of path.slice(0, -1)) at = at[key] as typeof copy;
  if (how === 'replace') at[last] = by;
  else if (how === 'remove') delete at[last];
  else if (typeof at[last] === 'object' && at[last] !== null)
    Object.assign(at[last], { extra: by });
  // What was removed from a list leaves a hole, which JSON does not have.
  return JSON.parse(JSON.stringify(copy));
}

const telling = fc.oneof(
  fc.constantFrom<unknown>(null, true, -1, 0, 1.5, 2 ** 60, '', 'ok', 'failed', 'x', [], {}, [
    null,
  ]),
  fc.constantFrom('2026-01-31T20:15:00.000Z', '2026-02-30T20:15:00Z', '2026-01-31T20:15:00+01:00'),
  fc.jsonValue({ maxDepth: 1 }),
);

const fullRun = sampleRun({
  parameters: { size: 3, algorithm: 'sha256' },
  cooldown: { seconds: 1, ended: 'time-passed', celsius: null, load: 0.5 },
  disturbances: [{ code: 'load', message: 'busy' }],
  steps: [
    {
      id: 'load',
      part: 'step',
      exit: { kind: 'signal', signal: 'SIGKILL' },
      stopped: { cause: 'time-limit', forced: true },
      accounting: null,
      leftBehind: 0,
      failure: { code: 'time-limit', message: 'too long' },
      logs: null,
    },
  ],
  metrics: [{ id: 'wall', value: 2.5, unit: 's', better: 'lower', bound: 'below' }],
});

describe('a quick check', () => {
  it.each<[string, z.ZodType, unknown]>([
    ['run', runRecordSchema, sampleRun()],
    ['run with everything', runRecordSchema, fullRun],
    ['sitting', sittingFileSchema, sampleSitting()],
    ['inventory', inventorySchemaDefinition, sampleInventory],
  ])('of a %s agrees with its definition, whatever is changed', (_, schema, sample) => {
    const isGood = compileCheck(schema);
    const plain = JSON.parse(JSON.stringify(sample));
    expect(isGood(plain)).toBe(true);
    const property = fc.property(
      fc.constantFrom(...pathsOf(plain)),
      fc.constantFrom('replace' as const, 'remove' as const, 'add' as const),
      telling,
      (path, how, by) => {
        const value = changed(plain, path, how, by);
        const parsed = schema.safeParse(value);
        expect(isGood(value)).toBe(parsed.success);
        if (parsed.success) expect(parsed.data).toEqual(value);
      },
    );
    fc.assert(property, { numRuns: 1500 });
  });

  it.each<[string, z.ZodType, unknown, boolean]>([
    ['infinite numbers', z.number(), JSON.parse('1e999'), false],
    ['numbers beyond the safe ones', z.int(), 2 ** 53, false],
    [
      'a member named __proto__',
      z.record(z.string(), z.number()),
      JSON.parse('{"__proto__":1}'),
      false,
    ],
    ['a list for an object', z.strictObject({}), [], false],
    ['a missing key of a whole record', z.record(z.enum(['a', 'b']), z.number()), { a: 1 }, false],
    ['a partial record', z.partialRecord(z.enum(['a', 'b']), z.number()), { a: 1 }, true],
    ['an unknown key of it', z.partialRecord(z.enum(['a']), z.number()), { c: 1 }, false],
    ['a short tuple', z.tuple([z.string()], z.string()), [], false],
    ['a longer tuple', z.tuple([z.string()], z.number()), ['a', 1, 2], true],
    ['a closed tuple', z.tuple([z.string()]), ['a', 'b'], false],
    ['bounds', z.number().gt(0).lt(1), 1, false],
    ['lengths', z.string().min(1).max(2), 'abc', false],
    ['no lengths', z.array(z.string()).min(1), [], false],
  ])('knows %s', (_, schema, value, expected) => {
    expect(compileCheck(schema)(value)).toBe(expected);
    expect(expected && !schema.safeParse(value).success).toBe(false);
  });

  it.each<[string, z.ZodType]>([
    ['a default', z.strictObject({ a: z.number().default(1) })],
    ['a transform', z.string().transform((text) => text.length)],
    ['an object that drops members', z.object({ a: z.number() })],
    ['a trimmed text', z.string().trim()],
  ])('is refused for %s: it would not be what the definition returns', (_, schema) => {
    expect(() => compileCheck(schema)).toThrow('internal error: no quick check');
  });
});
