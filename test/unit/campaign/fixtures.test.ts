import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadCampaign } from '../../../src/campaign/load.ts';
import { formatProblem } from '../../../src/model/problem.ts';

const root = fileURLToPath(new URL('../../fixtures/campaigns/', import.meta.url));

function names(folder: string): string[] {
  return readdirSync(root + folder).filter((name) => name.endsWith('.yaml'));
}

async function messagesOf(path: string): Promise<string[]> {
  const loaded = await loadCampaign(path);
  return loaded.ok ? [] : loaded.error.map(formatProblem);
}

describe('a campaign file that is right', () => {
  it.each(names('valid'))('%s is accepted without a problem', async (name) => {
    expect(await messagesOf(`${root}valid/${name}`)).toEqual([]);
  });
});

describe('a campaign file that is wrong tells all its problems, each in its place', () => {
  // Each of these files ends with what is expected of it, in lines that start with `#=`.
  it.each(names('invalid'))('%s', async (name) => {
    const path = `${root}invalid/${name}`;
    const expected = [...readFileSync(path, 'utf8').matchAll(/^#= (.*)$/gm)];
    expect(expected.length).toBeGreaterThan(0);
    expect(await messagesOf(path)).toEqual(expected.map(([, message]) => `${path}:${message}`));
  });

  it('which is not there', async () => {
    expect(await loadCampaign(`${root}valid/none.yaml`)).toMatchObject({
      error: [{ code: 'file-unreadable', line: null }],
    });
  });
});
