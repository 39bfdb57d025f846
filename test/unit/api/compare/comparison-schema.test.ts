import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { fileSchema } from '../../../../src/api/file-schema.ts';
import { comparisonDefinition } from '../../../../src/model/schemas/comparison-schema.ts';
import { sampleComparison, sampleRow } from '../../../setup/sample-comparison.ts';

const validate = new Ajv2020({ strict: true, strictRequired: false }).compile(
  fileSchema('comparison'),
);

describe('the schema of a comparison', () => {
  it('takes a comparison, as its definition does', () => {
    const comparison = JSON.parse(JSON.stringify(sampleComparison()));
    expect(validate(comparison), JSON.stringify(validate.errors)).toBe(true);
    expect(comparisonDefinition.safeParse(comparison).success).toBe(true);
  });

  it.each<[string, unknown]>([
    ['another schema', { ...sampleComparison(), schema: 'steadyrig/comparison/2' }],
    ['a member more', { ...sampleComparison(), extra: 1 }],
    ['an unknown verdict', sampleComparison({ rows: [sampleRow({ verdict: 'best' as never })] })],
    ['an unknown flag', sampleComparison({ flags: ['odd' as never] })],
    ['certainty', sampleComparison({ confidence: 1 })],
  ])('refuses %s', (_, value) => {
    expect(validate(value)).toBe(false);
    expect(comparisonDefinition.safeParse(value).success).toBe(false);
  });
});
