import { describe, expect, it } from 'vitest';
import { isAtLeast, versionNumbers } from '../../../../src/prepare/programs/compare-versions.ts';

describe('versions', () => {
  it('are compared part by part as numbers', () => {
    expect(isAtLeast('5.10', '5.9')).toBe(true);
    expect(isAtLeast('5.9', '5.10')).toBe(false);
    expect(isAtLeast('5.4.1', '5.4')).toBe(true);
    expect(isAtLeast('5.4', '5.4.0')).toBe(true);
    expect(isAtLeast('5.4', '5.4.1')).toBe(false);
    expect(isAtLeast('10', '9.9.9')).toBe(true);
    expect(isAtLeast('20240101', '20231231')).toBe(true);
  });

  it('are found in what programs print around them', () => {
    expect(versionNumbers('v5.4.1-alpha')).toEqual([5, 4, 1]);
    expect(versionNumbers('n7.1')).toEqual([7, 1]);
    expect(versionNumbers('1:9.3-2')).toEqual([9, 3]);
    expect(versionNumbers('7.1.5-0+b1')).toEqual([7, 1, 5]);
    expect(versionNumbers('unknown')).toBeNull();
    expect(isAtLeast('unknown', '1')).toBeNull();
  });
});
