import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../../src/campaign/design/check-design.ts';
import type { DesignFacts } from '../../../../src/campaign/design/setting.ts';
import type { Question } from '../../../../src/model/campaign.ts';
import type { DesignAnswer, DesignCheck } from '../../../../src/model/design.ts';
import { campaignOfRows, fullFactorial, plainFacts } from '../../../setup/design.ts';

const effect = (factor: string): Question => ({ kind: 'effect', factor });
const rig = (label: string): Question => ({ kind: 'rig', rig: label });
const interaction = (one: string, other: string): Question => ({
  kind: 'interaction',
  factors: [one, other],
});

const study: DesignFacts = {
  ...plainFacts,
  study: {
    ...{ rig: 'rig-0', at: '2026-02-01T08:00:00.000Z', sittings: 5 },
    rows: [
      { workload: 'pack', metric: 'wall', variance: { value: 0.01 ** 2, degreesOfFreedom: 4 } },
    ],
  },
};

function check(
  rows: readonly string[],
  questions: readonly Question[] = [],
  more: Readonly<Record<string, unknown>> = {},
  facts: DesignFacts = plainFacts,
): DesignCheck {
  return checkDesign(campaignOfRows(rows, questions, more), facts);
}

function answerTo(question: Question, rows: readonly string[]): DesignAnswer {
  const [answer] = check(rows, [question]).answers;
  if (answer === undefined) throw new Error('no answer');
  return answer;
}

const codesOf = ({ findings, answers }: DesignCheck): string[] =>
  [...findings, ...answers.flatMap((answer) => answer.findings)].map(({ code }) => code);

describe('a full factorial', () => {
  it.each([2, 3, 4])('of %i factors answers every effect and interaction of two', (count) => {
    const names = [...'abcd'].slice(0, count);
    const pairs = names.flatMap((one, at) =>
      names.slice(at + 1).map((two) => interaction(one, two)),
    );
    const { answers } = check(fullFactorial(count), [...names.map(effect), ...pairs]);
    expect(new Set(answers.map(({ answer }) => answer))).toEqual(new Set(['yes']));
    expect(answers.flatMap(({ findings }) => findings)).toEqual([]);
  });

  it('with factors of two and three levels answers both and their interaction', () => {
    const rows = ['-1', '-2', '-3', '+1', '+2', '+3'];
    const { answers } = check(rows, [effect('a'), effect('b'), interaction('a', 'b')]);
    expect(answers.map(({ answer }) => answer)).toEqual(['yes', 'yes', 'yes']);
  });
});

describe('one factor at a time', () => {
  const rows = ['---', '+--', '-+-', '--+'];

  it('tells an effect only if its own interactions are nothing, not those of others', () => {
    const { answer, findings } = answerTo(effect('a'), rows);
    expect(answer).toBe('only-if');
    expect(findings[0]?.message).toMatch(/interactions a × b and a × c are nothing/);
    expect(findings[0]?.message).not.toContain('b × c');
  });

  it('cannot tell an interaction, and names the cell that is empty and would do', () => {
    const { answer, findings } = answerTo(interaction('a', 'b'), rows);
    expect(answer).toBe('no');
    expect(findings).toMatchObject([
      {
        ...{ code: 'missing-cell', severity: 'stop', remedy: 'add a rig with a +, b + and c -' },
        // 3 sittings of a minute and 2 swaps of 20.
        addition: { rigs: [{ a: '+', b: '+', c: '-' }], seconds: 3 * 60 + 2 * 1200 },
      },
    ]);
  });

  it('answers for each rig, which differs in one factor', () => {
    const { answers } = check(rows);
    expect(answers.map(({ answer, findings }) => [answer, findings.length])).toEqual([
      ['yes', 0],
      ['yes', 0],
      ['yes', 0],
    ]);
  });
});

describe('rigs that differ in several factors at once', () => {
  it('have no cause, and one rig between them would give them one', () => {
    const answer = answerTo(rig('rig-1'), ['--', '++']);
    expect(answer.answer).toBe('yes');
    expect(answer.findings).toMatchObject([
      { code: 'several-factors', severity: 'warn', addition: { rigs: [expect.anything()] } },
    ]);
    const effects = check(['--', '++'], [effect('a')]);
    expect(effects.answers[0]).toMatchObject({
      answer: 'no',
      findings: [{ code: 'aliased', message: expect.stringContaining('from the effect of b') }],
    });
  });

  it('are only noted where other rigs tell the effects apart', () => {
    const answer = answerTo(rig('rig-3'), ['--', '+-', '-+', '++']);
    expect(answer.findings).toMatchObject([{ code: 'several-factors', severity: 'note' }]);
  });
});

describe('what is asked of a design', () => {
  it('is mended by its additions: with them no question stays without answer', () => {
    const rows = fc.uniqueArray(fc.constantFrom(...fullFactorial(3)), {
      minLength: 2,
      maxLength: 7,
    });
    const question = fc.constantFrom(effect('a'), effect('c'), interaction('a', 'b'));
    fc.assert(
      fc.property(rows, question, (chosen, asked) => {
        const before = answerTo(asked, chosen);
        const addition = before.findings.find((finding) => finding.addition !== null)?.addition;
        if (before.answer === 'yes') {
          expect(addition).toBeUndefined();
          return;
        }
        const added = addition?.rigs.map((cell) => ['a', 'b', 'c'].map((id) => cell[id]).join(''));
        expect(added?.length).toBeGreaterThan(0);
        const after = answerTo(asked, [...chosen, ...(added ?? [])]).answer;
        if (before.answer === 'only-if') expect(after).toBe('yes');
        else expect(after).not.toBe('no');
      }),
      { numRuns: 150 },
    );
  });

  it('changes nothing with the order of the rigs behind the baseline', () => {
    const rows = fc.shuffledSubarray(['+--', '-+-', '++-', '--+', '+++'], { minLength: 1 });
    fc.assert(
      fc.property(rows, (others) => {
        const ask = [effect('a'), interaction('a', 'b')];
        const answersOf = (list: readonly string[]): unknown =>
          check(['---', ...list], ask).answers.map(({ answer }) => answer);
        expect(answersOf(others)).toEqual(answersOf([...others].sort()));
      }),
      { numRuns: 50 },
    );
  });
});

describe('the campaign as a whole', () => {
  it('needs a second level, and rigs that have the levels', () => {
    const one = check(['--', '+-'], [effect('b')]);
    expect(codesOf(one)).toContain('one-level');
    expect(one.answers[0]?.findings[0]).toMatchObject({
      ...{ code: 'one-level', severity: 'stop' },
      addition: { rigs: [{ a: '-', b: '+' }] },
    });
    const factors = { a: { title: 'a', levels: ['-', '+', 'x'] } };
    expect(codesOf(check(['-', '+'], [], { factors }))).toContain('unused-level');
    const single = check(['-', '-'], [effect('a')], {
      factors: { a: { title: 'a', levels: ['-'] } },
    });
    expect(single.answers[0]?.findings[0]?.remedy).toContain('a second level');
  });

  it('needs rigs that differ, in what a factor says', () => {
    expect(codesOf(check(['-', '-', '+']))).toContain('same-rig');
    const parts = {
      one: { role: 'board', name: 'One' },
      two: { role: 'board', name: 'Two' },
      plain: { role: 'case', name: 'Plain', affects: 'nothing' },
    };
    const rigs = (second: readonly string[]): object => ({
      'rig-0': { levels: { a: '-' }, parts: ['one'] },
      'rig-1': { levels: { a: '-' }, parts: second },
    });
    const other = check(['-', '-'], [], { parts, rigs: rigs(['two']) });
    expect(codesOf(other)).toContain('undeclared-parts');
    expect(codesOf(other)).not.toContain('same-rig');
    expect(codesOf(check(['-', '-'], [], { parts, rigs: rigs(['one', 'plain']) }))).toContain(
      'same-rig',
    );
  });

  it('needs a question, a return to the baseline, and better several assemblies', () => {
    expect(codesOf(check(['-']))).toContain('no-question');
    expect(codesOf(check(['-', '+']))).not.toContain('no-return');
    expect(codesOf(check(['-', '+'], [], { 'return-to-baseline': false }))).toContain('no-return');
    expect(codesOf(check(['-', '+'], [], { assemblies: 1 }))).toContain('one-assembly');
  });

  it('takes as long as its sittings and swaps', () => {
    // Two rigs, built twice each, and the baseline again with as many sittings as its first visit: 3 + 3 + 2.
    expect(check(['-', '+']).effort).toMatchObject({
      ...{ rigs: 2, sittings: 8, swaps: 4, seconds: 8 * 60 + 4 * 1200 },
    });
  });
});

describe('one sitting of each rig', () => {
  const once = { sittings: 1, assemblies: 1 };

  it('shows no difference of rigs without a precision study', () => {
    const [answer] = check(['-', '+'], [rig('rig-1')], once).answers;
    expect(answer).toMatchObject({
      answer: 'no',
      findings: [{ code: 'no-repeats', severity: 'stop' }],
    });
  });

  it('rests on the study where there is one', () => {
    const [answer] = check(['-', '+'], [rig('rig-1')], once, study).answers;
    expect(answer).toMatchObject({ answer: 'yes', findings: [{ severity: 'note' }, {}] });
  });

  it('lets a large design be judged by what its high interactions leave', () => {
    const { answers } = check(fullFactorial(3), [effect('a')], once);
    expect(answers).toMatchObject([{ answer: 'only-if', findings: [{ code: 'no-repeats' }] }]);
    expect(check(fullFactorial(2), [effect('a')], once).answers[0]?.answer).toBe('no');
  });
});

describe('with a precision study', () => {
  it('says how small a difference the sittings show, and how many show what matters', () => {
    const [answer] = check(['-', '+'], [rig('rig-1')], {}, study).answers;
    expect(answer?.sight?.detectable).toBeGreaterThan(0.02);
    expect(answer?.findings).toMatchObject([{ code: 'unseen', severity: 'warn' }]);
    const needed = answer?.sight?.sittingsNeeded ?? 0;
    const [enough] = check(['-', '+'], [rig('rig-1')], { sittings: needed }, study).answers;
    expect(enough?.findings).toEqual([]);
    expect(enough?.sight?.power).toBeGreaterThanOrEqual(0.8);
    const [less] = check(['-', '+'], [rig('rig-1')], { sittings: needed - 1 }, study).answers;
    expect(less?.sight?.power).toBeLessThan(0.8);
  });

  it('says nothing of it without one, nor of what cannot be answered', () => {
    expect(check(['-', '+']).answers[0]?.sight).toBeNull();
    expect(codesOf(check(['-', '+']))).toContain('no-study');
    expect(check(['--', '++'], [effect('a')], {}, study).answers[0]?.sight).toBeNull();
  });
});
