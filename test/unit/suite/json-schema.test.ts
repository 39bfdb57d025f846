import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import { suiteJsonSchema } from '../../../src/suite/json-schema.ts';
import { loadSuite } from '../../../src/suite/load.ts';
import { undescribed } from '../../setup/undescribed.ts';

const shippedFolder = fileURLToPath(new URL('../../../suites/', import.meta.url));
const fixtures = fileURLToPath(new URL('../../fixtures/suites/', import.meta.url));
const schema = suiteJsonSchema(shippedCatalog);
const validate = new Ajv2020({ allErrors: true, allowUnionTypes: true }).compile(schema);

function suites(folder: string): string[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => folder + name);
}

function isAccepted(path: string): boolean {
  return validate(parse(readFileSync(path, 'utf8')));
}

describe('the JSON Schema of suites', () => {
  it('is the one that is committed; after a change run `npm run schemas`', () => {
    const committed = readFileSync(`${shippedFolder}suite.schema.json`, 'utf8');
    // The whole difference would fill the screen.
    expect(isDeepStrictEqual(JSON.parse(committed), schema)).toBe(true);
  });

  it.each(suites(`${fixtures}valid/`))('accepts %s', (path) => {
    expect(isAccepted(path)).toBe(true);
  });

  // Rules between keys, which a schema cannot hold, are the difference between the two.
  it.each(
    suites(`${fixtures}invalid/`).filter((path) => !/between-keys|yaml-syntax|tab/.test(path)),
  )('refuses %s', (path) => {
    expect(isAccepted(path)).toBe(false);
  });

  it('describes every key, so that editors can tell what it means', () => {
    expect(undescribed(schema, '')).toEqual([]);
  });

  it('offers the parameters of each shipped workload with their defaults', () => {
    const text = JSON.stringify(schema);
    for (const workload of Object.values(shippedCatalog))
      for (const rule of Object.values(workload.parameters))
        expect(text).toContain(JSON.stringify(rule.meaning));
  });
});

describe('every shipped suite', () => {
  it.each(suites(shippedFolder))('is accepted by the schema and when loaded: %s', async (path) => {
    expect(isAccepted(path)).toBe(true);
    expect(await loadSuite(path, shippedCatalog)).toMatchObject({ ok: true });
  });

  it.each(suites(shippedFolder))('names the schema in its first line: %s', (path) => {
    const [first] = readFileSync(path, 'utf8').split('\n');
    expect(first).toBe('# yaml-language-server: $schema=suite.schema.json');
  });
});
