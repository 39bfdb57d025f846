import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { builtPath } from '../../../src/lib/built-path.ts';

describe('builtPath', () => {
  it('leads from the source to the compiled file, whatever folders lie above', () => {
    const root = fileURLToPath(new URL('../../../', import.meta.url));
    const importer = new URL('../../../src/api/run-sitting.ts', import.meta.url).href;
    expect(builtPath('../workloads/hash.js', importer)).toBe(`${root}dist/workloads/hash.js`);
  });

  it('leaves paths outside the source alone', () => {
    expect(builtPath('./a.js', 'file:///usr/src/x/b.js')).toBe('/usr/src/x/a.js');
  });
});
