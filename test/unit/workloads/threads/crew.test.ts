import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startCrew } from '../../../../src/workloads/threads/crew.ts';

const serveCrew = new URL('../../../../dist/workloads/threads/serve-crew.js', import.meta.url);
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'crew-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** A thread's script with these phases; `setup` and `index` are in reach. */
function script(name: string, phases: string): string {
  const path = join(folder, `${name}.mjs`);
  const code = `import { serveCrew } from ${JSON.stringify(serveCrew.href)};
    serveCrew((setup, index) => ({ ${phases} }));`;
  writeFileSync(path, code);
  return path;
}

describe('a crew of threads', () => {
  it('gets each task once, whichever thread takes it', async () => {
    const path = script(
      'tasks',
      'work: (next, limit) => { const mine = []; for (let t = next(); t < limit; t = next()) mine.push(t); return mine; }',
    );
    const crew = await startCrew(path, 3, null);
    for (const limit of [1000, 10]) {
      const { answers, seconds } = await crew.phase<number[]>('work', limit);
      expect(answers).toHaveLength(3);
      expect(answers.flat().sort((a, b) => a - b)).toEqual(
        Array.from({ length: limit }, (_, i) => i),
      );
      expect(seconds).toBeGreaterThan(0);
    }
    await crew.dismiss();
  });

  it('answers in order of threads, each with the setup', async () => {
    const crew = await startCrew(script('order', 'who: () => setup + index'), 4, 10);
    expect((await crew.phase('who')).answers).toEqual([10, 11, 12, 13]);
    await crew.dismiss();
  });

  it('fails as a whole when one thread fails or ends', async () => {
    const path = script(
      'failing',
      "fail: () => { if (index === 1) throw new Error('out of cheese'); }, end: () => process.exit(3)",
    );
    const crew = await startCrew(path, 2, null);
    await expect(crew.phase('fail')).rejects.toThrow('out of cheese');
    const other = await startCrew(path, 1, null);
    await expect(other.phase('end')).rejects.toThrow('ended before its work');
  });

  it('does not start when one thread cannot get ready', async () => {
    const path = join(folder, 'broken.mjs');
    writeFileSync(path, "throw new Error('no memory left');");
    await expect(startCrew(path, 2, null)).rejects.toThrow('no memory left');
  });
});
