import { describe, expect, it } from 'vitest';
import type { Comparison, Difference } from '../../../../src/model/comparison.ts';
import type { EffectFinding, Effects } from '../../../../src/model/effects.ts';
import { tellCause } from '../../../../src/report/story/tell-cause.ts';
import { sampleComparison } from '../../../setup/sample-comparison.ts';

const side = (label: string): Comparison['sides'][number] => ({
  ...{ label, sittings: [`${label}-1`], levels: {} },
});
const difference = (candidate: string, path: string, declared: boolean): Difference => ({
  ...{ candidate, path, from: 'x', to: 'y', absent: null, declared },
});
function cause(differences: readonly Difference[], rigs = ['a', 'b']): string {
  return tellCause(sampleComparison({ differences, sides: rigs.map(side) }), null).join(' ');
}
/** Of effects with these findings; the ratio of each is larger than the one before. */
function effects(...findings: readonly EffectFinding[]): string {
  const all = findings.map((finding, at) => ({
    ...{ finding, sentence: `Effect ${at}.`, contrasts: [{ ratio: 1.01 ** (at + 1) }] },
  }));
  const made = { metrics: [{ workload: 'pack', effects: all }] } as unknown as Effects;
  return tellCause(sampleComparison({ differences: [] }), made).join(' ');
}

describe('what it is because of', () => {
  it('is no part where anything differs undeclared, in the rigs that it differs in', () => {
    const differences = [
      difference('b', 'levels.board', true),
      difference('c', 'os.kernel', false),
    ];
    expect(cause(differences, ['a', 'b', 'c'])).toBe(
      'For c no part can be named as the cause: os.kernel differs, and nobody declared it.',
    );
    const both = [
      ...differences,
      difference('b', 'os.kernel', false),
      difference('b', 'os.name', false),
    ];
    expect(cause(both, ['a', 'b', 'c'])).toBe(
      'No part can be named as the cause: os.kernel, os.name differ too, and nobody declared them.',
    );
  });

  it('is not claimed for what is declared, only named', () => {
    expect(cause([difference('b', 'levels.board', true)])).toBe(
      'As far as the inventory sees, only levels.board differs, as declared.',
    );
    expect(
      cause([difference('b', 'levels.board', true), difference('b', 'board.name', true)]),
    ).toBe('2 declared things differ together, so no single one can be named as the cause.');
    expect(cause([])).toContain('No difference in parts, settings or programs');
    expect(cause([], ['a', 'b', 'c'])).toBe('');
  });

  it('is the largest effect that is shown, else why there is none', () => {
    expect(effects('shown', 'shown', 'open')).toBe('The largest effect is in pack: Effect 1.');
    expect(effects('untested', 'untested')).toContain(
      'nothing says how far sittings of one rig lie apart',
    );
    expect(effects('voided')).toBe('No effect of a factor can be told from these rigs.');
    expect(effects('alike', 'alike')).toBe(
      'Every effect of a factor is surely smaller than what matters.',
    );
    expect(effects('alike', 'open')).toContain('some are ruled out');
    expect(effects('open', 'untold')).toContain('none is ruled out');
  });
});
