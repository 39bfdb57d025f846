import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../../src/campaign/design/check-design.ts';
import { parseCampaign } from '../../../../src/campaign/parse-campaign.ts';
import type { DesignCheck } from '../../../../src/model/design.ts';
import { unwrap } from '../../../setup/unwrap.ts';

/** Rigs as rows of levels, one letter a factor: `-` the first level, `+` the second. The first one is the baseline. */
function check(rows: readonly string[], questions: string, sittings = 3): DesignCheck {
  const factors = [...'abcd'].slice(0, rows[0]?.length);
  const levels = (row: string): string =>
    factors.map((factor, at) => `${factor}: ${row[at] === '-' ? 'low' : 'high'}`).join(', ');
  const text = [
    'campaign: handbook\ntitle: Handbook design\nquestion: Which factors count?\nsuite: first-light',
    `baseline: rig-0\nsittings: ${sittings}\nreturn-to-baseline: true\nassemblies: 1\nfactors:`,
    ...factors.map(
      (factor) => `  ${factor}: { title: ${factor.toUpperCase()}, levels: [low, high] }`,
    ),
    'rigs:',
    ...rows.map((row, at) => `  rig-${at}: { title: R${at}, levels: { ${levels(row)} } }`),
    `questions: ${questions}`,
  ].join('\n');
  const { campaign } = unwrap(parseCampaign(text, 'c.yaml'));
  const sitting = { seconds: 60, basis: 'assumed' as const };
  return checkDesign(campaign, { sitting, study: null } as unknown as Parameters<
    typeof checkDesign
  >[1]);
}

const answers = ({ answers: all }: DesignCheck): readonly string[] =>
  all.map(({ answer }) => answer);
const messages = (found: DesignCheck): string =>
  found.answers.flatMap(({ findings }) => findings.map(({ message }) => message)).join('\n');

describe('checkDesign', () => {
  it('lets a full factorial answer effects and interactions', () => {
    const full = check(
      ['--', '+-', '-+', '++'],
      '[{ effect: a }, { effect: b }, { interaction: [a, b] }]',
    );
    expect(answers(full)).toEqual(['yes', 'yes', 'yes']);
  });

  it('finds the half fraction of three factors mixed as the handbook says: a with b × c', () => {
    // NIST/SEMATECH e-Handbook 5.3.3.4.2, the half of a 2^3 with C = AB: main effects confounded with two-factor interactions.
    const half = check(['--+', '+--', '-+-', '+++'], '[{ effect: a }, { interaction: [b, c] }]');
    expect(answers(half)).toEqual(['only-if', 'no']);
    expect(half.answers[0]?.findings[0]?.message).toMatch(/B × C|b × c/);
  });

  it('names the one cell that is missing, and that adding it answers the question', () => {
    const three = check(['--', '+-', '++'], '[{ interaction: [a, b] }]');
    expect(answers(three)).toEqual(['no']);
    const [finding] = three.answers[0]?.findings ?? [];
    expect(finding?.addition?.rigs).toEqual([{ a: 'low', b: 'high' }]);
    expect(answers(check(['--', '+-', '++', '-+'], '[{ interaction: [a, b] }]'))).toEqual(['yes']);
  });

  it('cannot tell two factors apart that always change together', () => {
    const together = check(['--', '++'], '[{ effect: a }, { rig: rig-1 }]');
    expect(answers(together)).toEqual(['no', 'yes']);
    expect(messages(together)).toMatch(/at once/);
  });

  it('says so when rigs are measured once only', () => {
    const once = check(['-', '+'], '[{ rig: rig-1 }]', 1);
    expect(JSON.stringify(once)).toContain('no-repeats');
  });
});
