import { describe, expect, it } from 'vitest';
import { shippedNames } from '../../../../src/model/shipped.ts';
import { knownCheck } from '../../../../src/workloads/program/known-checks.ts';
import { parametersOf } from '../run-workload.ts';

describe('known check values', () => {
  it.each(shippedNames)(
    'cover the default parameters of %s, with any number of threads',
    (name) => {
      const defaults = parametersOf(name);
      const check = knownCheck(name, defaults);
      expect(check).toMatch(/^[0-9a-f]{8,64}$/);
      if ('threads' in defaults) expect(knownCheck(name, { ...defaults, threads: 7 })).toBe(check);
    },
  );

  it('say nothing about other parameters', () => {
    expect(knownCheck('hash', parametersOf('hash', { seed: 2 }))).toBeNull();
  });
});
