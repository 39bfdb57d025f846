import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { formatProblem } from '../../../src/model/problem.ts';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import { loadSuite } from '../../../src/suite/load.ts';

const root = fileURLToPath(new URL('../../fixtures/suites/', import.meta.url));

function names(folder: string): string[] {
  return readdirSync(root + folder).filter((name) => name.endsWith('.yaml'));
}

async function messagesOf(path: string): Promise<string[]> {
  const loaded = await loadSuite(path, shippedCatalog);
  return loaded.ok ? [] : loaded.error.map(formatProblem);
}

describe('a suite file that is right', () => {
  it.each(names('valid'))('%s is accepted without a problem', async (name) => {
    expect(await messagesOf(`${root}valid/${name}`)).toEqual([]);
  });
});

describe('a suite file that is wrong tells all its problems, each in its place', () => {
  // Each of these files ends with what is expected of it, in lines that start with `#=`.
  const written = ['invalid', 'hostile']
    .flatMap((folder) => names(folder).map((name) => `${folder}/${name}`))
    .map((name) => ({ name, expected: expectedOf(readFileSync(root + name, 'latin1')) }))
    .filter(({ expected }) => expected.length > 0);

  it.each(written)('$name', async ({ name, expected }) => {
    const path = root + name;
    expect(await messagesOf(path)).toEqual(expected.map((message) => `${path}:${message}`));
  });

  // These hold bytes that no text could follow, so what is expected of them stands here.
  it.each([
    ['nul', ':2:10: a control character, U+0000; expected text in UTF-8'],
    ['control', ':2:9: a control character, U+001B; expected text in UTF-8'],
    ['latin-1', ': is not UTF-8: byte 0xE9 at offset 19 fits no character; save it as UTF-8'],
    ['surrogate', ': is not UTF-8: byte 0xED at offset 16 fits no character; save it as UTF-8'],
    ['utf-16', ': is UTF-16; expected UTF-8: save it as UTF-8'],
    ['utf-16-without-mark', ':1:2: a control character, U+0000; expected text in UTF-8'],
  ])('hostile/%s.yaml', async (name, message) => {
    const path = `${root}hostile/${name}.yaml`;
    expect(await messagesOf(path)).toEqual([path + message]);
  });

  it('is tried for every file of the folders', () => {
    expect(written.length + 6).toBe(names('invalid').length + names('hostile').length);
  });
});

function expectedOf(text: string): string[] {
  const utf8 = Buffer.from(text, 'latin1').toString('utf8');
  return [...utf8.matchAll(/^#= (.*)$/gm)].map((match) => match[1] ?? '');
}
