import { describe, expect, it } from 'vitest';
import { chartFiles } from '../../../../src/report/charts/chart-files.ts';

describe('files of charts', () => {
  it('have names of their own on every kind of disk, whatever the charts are called', () => {
    const names = [
      'index',
      'workload:a b:wall',
      'workload:a/b:wall',
      'workload:A B:wall',
      'workload:a-b:wall-2',
      '../../etc/passwd',
      '..',
      'Ж',
      `workload:${'x'.repeat(400)}:one`,
      `workload:${'x'.repeat(400)}:two`,
    ];
    const files = chartFiles(names);
    expect([...files.keys()]).toEqual(names);
    expect(new Set([...files.values()].map((file) => file.toLowerCase())).size).toBe(names.length);
    for (const file of files.values()) expect(file).toMatch(/^[a-zA-Z0-9_][a-zA-Z0-9._-]{0,123}$/);
    expect(files.get('index')).toBe('index');
  });
});
