import { describe, expect, it } from 'vitest';
import { type ShippedName, shippedNames } from '../../../src/model/shipped.ts';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import { parametersOf, runWorkload } from './run-workload.ts';

/** Small enough for a test; figures mean nothing at this size. */
const small: Readonly<Record<ShippedName, Readonly<Record<string, number>>>> = {
  deflate: { size: 3_000_000 },
  brotli: { size: 3_000_000 },
  'path-trace': { width: 64, height: 40, samples: 2 },
  hash: { size: 70_000, passes: 7 },
  encrypt: { size: 700_000, passes: 3 },
  'memory-copy': { size: 1_000_004, passes: 3 },
  'memory-latency': { size: 1_000_000, laps: 3 },
  'json-sort': { records: 500, passes: 4 },
};

describe.each(shippedNames)('the program %s', (name) => {
  const itWith = (parameter: string, title: string, test: () => void): void => {
    if (Object.hasOwn(shippedCatalog[name].parameters, parameter)) it(title, test);
  };

  it('ends with one JSON line that holds every metric of the catalog', () => {
    const done = runWorkload(name, JSON.stringify(parametersOf(name, small[name])));
    expect(done.stderr).toBe('');
    expect(done.code).toBe(0);
    expect(done.report['workload']).toBe(name);
    expect(done.report['seconds']).toBeGreaterThan(0);
    expect(done.report['check']).toMatch(/^[0-9a-f]{8,128}$/);
    for (const metric of shippedCatalog[name].metrics) {
      const value = done.report[metric.pointer.slice(1)];
      expect(value, metric.pointer).toBeTypeOf('number');
      expect(value, metric.pointer).toBeGreaterThan(0);
    }
  });

  itWith('threads', 'has the same result with 1, 2 and 3 threads', () => {
    const outcomes = [1, 2, 3].map((threads) =>
      runWorkload(name, JSON.stringify(parametersOf(name, { ...small[name], threads }))),
    );
    expect(outcomes.map((each) => each.code)).toEqual([0, 0, 0]);
    expect(new Set(outcomes.map((each) => each.report['check'])).size).toBe(1);
    expect(new Set(outcomes.map((each) => String(each.image))).size).toBe(1);
  });

  itWith('seed', 'has another result for another seed', () => {
    const checks = [1, 2].map((seed) => {
      const parameters = parametersOf(name, { ...small[name], seed });
      return runWorkload(name, JSON.stringify(parameters)).report['check'];
    });
    expect(checks[0]).not.toBe(checks[1]);
  });

  it('refuses bad parameters with exit code 2 and nothing on standard output', () => {
    for (const bad of [[], ['{}'], ['not JSON']]) {
      const done = runWorkload(name, ...bad);
      expect(done.code).toBe(2);
      expect(done.stdout).toBe('');
      expect(done.stderr).toMatch(new RegExp(`^${name}: .*expected`));
    }
  });
});
