import { describe, expect, it } from 'vitest';
import { measuredEnvironment, runMark } from '../../../../src/runner/meter/measured-environment.ts';

const size = (environment: Record<string, string>) =>
  Object.entries(environment).flat().join('').length;

describe('the environment of a measured program', () => {
  const from = { path: '/usr/bin:/bin', scratch: '/scratch', extra: {} };

  it('holds the same few names whatever this process has', () => {
    const { [runMark]: mark, ...rest } = measuredEnvironment(from);
    expect(rest).toEqual({
      PATH: '/usr/bin:/bin',
      LANG: 'C.UTF-8',
      LC_ALL: 'C.UTF-8',
      TZ: 'UTC',
      HOME: '/scratch',
      TMPDIR: '/scratch',
    });
    expect(mark).toMatch(/^[0-9a-f]{32}$/);
  });

  it('is new for each run, and always of the same size', () => {
    const [first, second] = [measuredEnvironment(from), measuredEnvironment(from)];
    expect(first[runMark]).not.toBe(second[runMark]);
    expect(size(first)).toBe(size(second));
  });

  it('takes no folder into PATH that depends on where a program is started', () => {
    const path = ':bin:/usr/bin::./x:/bin:';
    expect(measuredEnvironment({ ...from, path })['PATH']).toBe('/usr/bin:/bin');
  });

  it('lets the suite set anything but the mark', () => {
    const extra = { TZ: 'Asia/Tokyo', OWN: 'x', [runMark]: 'forged' };
    const environment = measuredEnvironment({ ...from, extra });
    expect(environment).toMatchObject({ TZ: 'Asia/Tokyo', OWN: 'x' });
    expect(environment[runMark]).not.toBe('forged');
  });
});
