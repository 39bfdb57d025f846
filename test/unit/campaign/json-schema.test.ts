import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { campaignJsonSchema } from '../../../src/campaign/json-schema.ts';
import { parseCampaign } from '../../../src/campaign/parse-campaign.ts';
import { undescribed } from '../../setup/undescribed.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));
const fixtures = `${root}test/fixtures/campaigns/`;
const schema = campaignJsonSchema();
const validate = new Ajv2020({ allErrors: true, allowUnionTypes: true }).compile(schema);

function isAccepted(text: string): boolean {
  return validate(parse(text));
}

/** The campaign that the README shows. */
function example(): string {
  const readme = readFileSync(`${root}README.md`, 'utf8');
  const found = /```yaml\n(#[^\n]*campaign\.schema\.json\n.*?)```/s.exec(readme);
  return found?.[1] ?? '';
}

describe('the JSON Schema of campaigns', () => {
  it('is the one that is committed; after a change run `npm run schemas`', () => {
    const committed = readFileSync(`${root}suites/campaign.schema.json`, 'utf8');
    expect(isDeepStrictEqual(JSON.parse(committed), schema)).toBe(true);
  });

  it.each(readdirSync(`${fixtures}valid`))('accepts %s', (name) => {
    expect(isAccepted(readFileSync(`${fixtures}valid/${name}`, 'utf8'))).toBe(true);
  });

  it.each(['keys.yaml', 'list.yaml'])('refuses %s', (name) => {
    expect(isAccepted(readFileSync(`${fixtures}invalid/${name}`, 'utf8'))).toBe(false);
  });

  it('describes every key, so that editors can tell what it means', () => {
    expect(undescribed(schema, '')).toEqual([]);
  });
});

describe("the README's campaign", () => {
  it('is accepted by the schema and by the parser', () => {
    expect(isAccepted(example())).toBe(true);
    expect(parseCampaign(example(), 'README.md')).toMatchObject({ ok: true });
  });
});
