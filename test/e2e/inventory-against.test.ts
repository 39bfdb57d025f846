import { appendFileSync, cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { fileSchema } from '../../src/api/file-schema.ts';
import { runCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const demo = fileURLToPath(new URL('../../results/harbour-lane', import.meta.url));
const id = '20260202T090749Z-first-8-desk-e5c7';

function stored(): { readonly cwd: string; readonly folder: string } {
  const cwd = temporaryFolder();
  const folder = join(cwd, 'results', id);
  cpSync(join(demo, id), folder, { recursive: true });
  return { cwd, folder };
}

describe('steadyrig inventory --against', () => {
  it('tells what differs from a stored sitting by part, before and after', async () => {
    const { cwd } = stored();
    const page = await runCli(['inventory', '--against', 'first-8'], cwd);
    expect(page.code).toBe(0);
    expect(page.stdout).toMatch(/^\d+ differences since/);
    expect(page.stdout).toContain('Processor\n');
    // The other machine is an invented one.
    expect(page.stderr).toBe(`INVENTED DATA: the notes of ${id} say so\n`);
    expect(page.stdout).toMatch(/model: Example Silicon E4[^→]*→ /);
    const json = await runCli(['inventory', '--against', 'first-8', '--json'], cwd);
    const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(
      fileSchema('inventory-differences'),
    );
    expect(validate(JSON.parse(json.stdout)), JSON.stringify(validate.errors)).toBe(true);
  });

  it('says of a sitting that is not sealed that nothing vouches for it', async () => {
    const { cwd, folder } = stored();
    for (const name of [
      'bagit.txt',
      'bag-info.txt',
      'manifest-sha512.txt',
      'tagmanifest-sha512.txt',
    ])
      rmSync(join(folder, name));
    const { code, stderr } = await runCli(['inventory', '--against', folder], cwd);
    expect(code).toBe(0);
    expect(stderr).toContain(`not sealed, so nothing tells whether it changed since: ${id}`);
  });

  it('refuses an inventory that was changed after it was sealed', async () => {
    const { cwd, folder } = stored();
    appendFileSync(join(folder, 'data/inventory.json'), ' ');
    const { code, stdout, stderr } = await runCli(['inventory', '--against', 'first-8'], cwd);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain('data/inventory.json: damaged');
    expect(stderr).not.toMatch(/\n {4}at /);
  });

  it('refuses a rig that no sitting is of, and names near ones', async () => {
    const { cwd } = stored();
    const { code, stderr } = await runCli(['inventory', '--against', 'first-9'], cwd);
    expect(code).toBe(2);
    expect(stderr).toContain('did you mean first-8?');
  });
});
