import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const source = fileURLToPath(new URL('../../src', import.meta.url));
const read = (path: string): string => readFileSync(join(source, path), 'utf8');

/** What the command line takes from `api/`, each function with the file that declares it. */
function usedByCommands(): ReadonlyMap<string, string> {
  const used = new Map<string, string>();
  const files = readdirSync(join(source, 'cli'), { recursive: true, encoding: 'utf8' });
  for (const file of files.filter((name) => name.endsWith('.ts'))) {
    const imports = read(join('cli', file)).matchAll(
      /^import \{([^}]*)\} from '(?:\.\.\/)+(api\/[^']+)';/gm,
    );
    for (const [, names = '', path = ''] of imports)
      for (const name of names.split(',').map((each) => each.trim().replace(/ as .*$/, '')))
        if (name !== '' && !name.startsWith('type ')) used.set(name, path);
  }
  return used;
}

describe('the library', () => {
  const used = usedByCommands();

  it('has every function that the command line stands on', () => {
    const exported = new Set(
      [...read('index.ts').matchAll(/^export \{([^}]*)\}/gm)].flatMap(([, names = '']) =>
        names.split(',').map((name) => name.trim()),
      ),
    );
    expect(used.size).toBeGreaterThan(40);
    expect([...used.keys()].filter((name) => !exported.has(name))).toEqual([]);
  });

  it('says of each what comes back', () => {
    const undescribed = [...used].filter(
      ([name, path]) =>
        !new RegExp(`\\*/\\nexport (async )?(function|class|const) ${name}\\b`).test(read(path)),
    );
    expect(undescribed.map(([name]) => name)).toEqual([]);
  });
});
