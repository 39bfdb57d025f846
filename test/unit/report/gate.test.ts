import { describe, expect, it } from 'vitest';
import { create } from 'xmlbuilder2';
import { parse } from 'yaml';
import { type Gate, type GateRow, gateSchema } from '../../../src/model/gate.ts';
import { gateDefinition } from '../../../src/model/schemas/gate-schema.ts';
import { renderGateJunit } from '../../../src/report/gate/gate-junit.ts';
import { renderGateMarkdown } from '../../../src/report/gate/gate-markdown.ts';
import { renderGate } from '../../../src/report/gate/gate-page.ts';
import { renderGateTap } from '../../../src/report/gate/gate-tap.ts';
import { expectGolden } from '../../setup/golden.ts';

const row = (changes: Partial<GateRow>): GateRow => ({
  ...{
    workload: 'pack',
    metric: 'wall',
    unit: 's',
    better: 'lower',
    finding: 'held',
    allowed: 0.03,
    line: 9,
  },
  ...{
    baselineMean: 1,
    candidateMean: 1,
    ratio: 1,
    low: 0.99,
    high: 1.01,
    adjustedP: 0.9,
    basis: 'sittings',
    flags: [],
  },
  text: '0 % better',
  ...changes,
});
const sample: Gate = {
  schema: gateSchema,
  tool: '0.1.0',
  finding: 'worse',
  passes: false,
  suite: { id: 'guard', revision: 1, digest: 'a'.repeat(64), file: 'bench/guard.yaml' },
  baseline: 'main',
  baselineSittings: ['20260101T000000Z-runner-guard-0001'],
  candidateSittings: ['20260102T000000Z-candidate-guard-0002'],
  confidence: 0.95,
  whenUnsure: 'pass',
  rows: [
    row({}),
    row({
      workload: 'parse',
      finding: 'worse',
      ratio: 0.9,
      low: 0.88,
      high: 0.92,
      line: 14,
      text: '10 % worse (ratio 0.880 … 0.920); 3 % are allowed',
    }),
    row({ workload: 'sort', finding: 'unsure', text: '2 % worse, which may be chance' }),
    row({
      workload: 'link',
      finding: 'uncompared',
      metric: '',
      ratio: null,
      low: null,
      high: null,
      text: 'failed 3 times',
      line: null,
    }),
  ],
  differences: [
    {
      candidate: 'candidate',
      path: 'os.kernel',
      from: '6.1.0',
      to: '6.1.2',
      absent: null,
      declared: false,
    },
  ],
  notes: [],
};
const hostile: Gate = {
  ...sample,
  suite: { ...sample.suite, id: '<s> & "q"', file: 'a#b]]>.yaml' },
  rows: [
    row({
      workload: 'x # TODO',
      finding: 'worse',
      text: ']]> & <b>\u0000\u001b[31m"\'\n...\nnot ok',
    }),
  ],
};

describe('what a gate writes', () => {
  it('fits its schema', () => {
    expect(gateDefinition.safeParse(JSON.parse(JSON.stringify(sample))).error).toBeUndefined();
  });

  it('says on one screen what is to be done, and where', () => {
    expectGolden('gate/page.txt', `${renderGate(sample)}\n`);
    for (const line of renderGate(sample).split('\n'))
      expect([...line].length).toBeLessThanOrEqual(80);
  });

  it('says it in Markdown, in which no text is markup', () => {
    expectGolden('gate/comment.md', renderGateMarkdown(sample));
    expect(renderGateMarkdown(hostile)).not.toMatch(/<b>|<s>/);
  });

  // The common form (from memory): testsuites > testsuite with counts > testcase with name and classname, holding at most one of failure, error, skipped.
  it.each([
    ['plain', sample],
    ['hostile', hostile],
  ] as const)('writes JUnit XML of the common form (%s)', (_, gate) => {
    const root = create(renderGateJunit(gate)).root().toObject() as never as Record<string, never>;
    const suites = root['testsuites'] as never as Record<string, never>;
    const suite = suites['testsuite'] as never as Record<string, never>;
    const cases = ([] as Record<string, unknown>[]).concat(suite['testcase'] as never);
    expect(cases).toHaveLength(gate.rows.length);
    const having = (name: string): number => cases.filter((one) => name in one).length;
    expect(Number(suite['@tests'])).toBe(cases.length);
    expect(Number(suite['@failures'])).toBe(having('failure'));
    expect(Number(suite['@skipped'])).toBe(having('skipped'));
    for (const one of cases) {
      expect(one['@name']).toBeTypeOf('string');
      expect(one['@classname']).toBeTypeOf('string');
      expect(
        ['failure', 'error', 'skipped'].filter((name) => name in one).length,
      ).toBeLessThanOrEqual(1);
    }
  });

  // https://testanything.org/tap-version-14-specification.html (from memory): version, plan, points, YAML blocks indented by two between --- and ....
  it.each([
    ['plain', sample],
    ['hostile', hostile],
  ] as const)('writes TAP version 14 (%s)', (_, gate) => {
    const lines = renderGateTap(gate).trimEnd().split('\n');
    expect(lines.slice(0, 2)).toEqual(['TAP version 14', `1..${gate.rows.length}`]);
    let block: string[] | null = null;
    let points = 0;
    for (const line of lines.slice(2)) {
      if (block === null && line === '  ---') block = [];
      else if (block !== null && line === '  ...') {
        expect(parse(block.join('\n'))).toMatchObject({ message: gate.rows[points - 1]?.text });
        block = null;
      } else if (block !== null) block.push(line.slice(2));
      else {
        expect(line).toMatch(/^(not )?ok \d+ - (?:[^#\\]|\\[#\\])*(?: # TODO .*)?$/);
        points += 1;
      }
    }
    expect(points).toBe(gate.rows.length);
  });
});
