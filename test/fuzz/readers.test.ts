import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseFigures } from '../../src/api/import/parse-figures.ts';
import { parseCampaign } from '../../src/campaign/parse-campaign.ts';
import { parseJournal } from '../../src/journal/reader.ts';
import type { Problem } from '../../src/model/problem.ts';
import { problemCodes } from '../../src/model/problem.ts';
import { baselinesDefinition } from '../../src/model/schemas/baselines-schema.ts';
import { inventorySchemaDefinition } from '../../src/model/schemas/inventory-schema.ts';
import { parseRecord } from '../../src/model/schemas/parse-record.ts';
import { precisionStudySchema } from '../../src/model/schemas/precision-schema.ts';
import { sittingFileSchema } from '../../src/model/schemas/sitting-schema.ts';
import { telemetryLineSchema } from '../../src/model/schemas/telemetry-schema.ts';
import { shippedCatalog } from '../../src/model/shipped-catalog.ts';
import { parseSuite } from '../../src/suite/parse-suite.ts';
import { mutated } from './mutate.ts';

// `npm run fuzz` sets 100,000; the seed too may be given, to look at a case again.
const cases = Number(process.env['STEADYRIG_FUZZ'] ?? 600);
const seed = Number(process.env['STEADYRIG_FUZZ_SEED'] ?? 20260301);

const root = fileURLToPath(new URL('../..', import.meta.url));
const read = (path: string): string => readFileSync(join(root, path), 'utf8');
const folder = (path: string): string[] =>
  readdirSync(join(root, path))
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => read(join(path, name)));
const sitting = 'results/harbour-lane/20260202T090749Z-first-8-desk-e5c7/data';

/** What a reader makes of a text: problems, or none. */
type Reader = (text: string) => readonly Pick<Problem, 'code' | 'message'>[];

function fuzz(good: readonly string[], reader: Reader): void {
  fc.assert(
    fc.property(mutated(good), (text) => {
      const from = process.cpuUsage();
      const problems = reader(text);
      const { user, system } = process.cpuUsage(from);
      // CPU time, so that a busy machine is no hang.
      expect((user + system) / 1e6, 'seconds for a text').toBeLessThan(1);
      for (const { code, message } of problems) {
        expect(problemCodes).toContain(code);
        expect(message.length).toBeGreaterThanOrEqual(8);
        expect(message).not.toMatch(
          /\n {4}at |internal error|undefined is|Cannot read prop|\[object /,
        );
      }
    }),
    { numRuns: cases, seed, endOnFailure: cases > 10_000 },
  );
  // Keys of a text may not reach what all objects share.
  expect(({} as Record<string, unknown>)['x']).toBeUndefined();
}

const problemsOf = (result: { ok: true } | { ok: false; error: unknown }): Problem[] =>
  result.ok ? [] : ([] as Problem[]).concat(result.error as Problem | Problem[]);

describe(`readers on ${cases} texts each`, () => {
  const limit = 3_600_000;

  it('of suites: every problem has a code and says something', { timeout: limit }, () => {
    fuzz([...folder('suites'), ...folder('test/fixtures/suites/valid')], (text) =>
      problemsOf(parseSuite(text, 'a.yaml', shippedCatalog)),
    );
  });

  it('of campaigns', { timeout: limit }, () => {
    fuzz(
      [read('results/harbour-lane/campaign.yaml'), ...folder('test/fixtures/campaigns/valid')],
      (text) => problemsOf(parseCampaign(text, 'a.yaml')),
    );
  });

  it('of journals', { timeout: limit }, () => {
    const lines = read(`${sitting}/runs.jsonl`).split('\n');
    const short = `${lines.slice(0, 2).join('\n')}\n`;
    fuzz([short, `${lines[0]}\n`], (text) =>
      problemsOf(parseJournal(Buffer.from(text), 'runs.jsonl')),
    );
  });

  it('of figures in CSV', { timeout: limit }, () => {
    const head = 'rig,sitting,suite,workload,metric,repeat,value,unit,better';
    const rows = [
      'bench-a,one,,pack,wall,1,12.5,s,lower',
      'bench-a,one,,pack,wall,2,"12,5",s,lower',
      'bench-b,two,desk,pack,rate,1,3e6,By/s,higher',
    ];
    fuzz([[head, ...rows].join('\r\n'), [head, rows[0]].join('\n')], (text) => {
      const parsed = parseFigures(text, []);
      return parsed.ok
        ? []
        : parsed.error.map(({ message }) => ({ code: 'figures-invalid' as const, message }));
    });
  });

  it.each([
    ['sitting.json', 'sitting', sittingFileSchema, `${sitting}/sitting.json`],
    ['inventory.json', 'inventory', inventorySchemaDefinition, `${sitting}/inventory.json`],
    [
      'precision studies',
      'precision',
      precisionStudySchema,
      `results/harbour-lane/precision/${readdirSync(join(root, 'results/harbour-lane/precision'))[0]}`,
    ],
  ] as const)('of %s', { timeout: limit }, (_, name, definition, path) => {
    fuzz([read(path)], (text) => {
      let value: unknown;
      try {
        value = JSON.parse(text);
      } catch {
        return [];
      }
      const parsed = parseRecord(
        value,
        name as never,
        definition as never,
        (where) => `not a ${name} file: ${where}:`,
      );
      return parsed.ok ? [] : [parsed.error];
    });
  });

  it.each([
    [
      'baselines',
      baselinesDefinition,
      `{"schema":"steadyrig/baselines/1","baselines":{"main":{"rig":"a","suite":{"id":"b","revision":1,"digest":"${'a'.repeat(64)}"},"sittings":[{"id":"x","seal":"${'b'.repeat(128)}"}],"setAt":"2026-01-01T00:00:00Z"}}}`,
    ],
    [
      'telemetry lines',
      telemetryLineSchema,
      read(`${sitting}/telemetry.jsonl`).split('\n')[1] ?? '',
    ],
  ] as const)('of %s', { timeout: limit }, (_, definition, text) => {
    fuzz([text], (changed) => {
      try {
        definition.safeParse(JSON.parse(changed));
      } catch (error) {
        if (!(error instanceof SyntaxError)) throw error;
      }
      return [];
    });
  });
});
