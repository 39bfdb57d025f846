import { execFileSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const whole = fileURLToPath(new URL('../../results/harbour-lane', import.meta.url));
// One sitting of each rig: what the report says of all of them is tested elsewhere.
const demo = mkdtempSync(join(tmpdir(), 'steadyrig-test-'));
const campaign = join(demo, 'campaign.yaml');
const about = [campaign, '--results', demo];

beforeAll(() => {
  const sittings = [
    'first-8-desk-e5c7',
    'second-8-desk-7902',
    'second-16-desk-6a3c',
    'first-16-desk-75d8',
  ];
  for (const name of readdirSync(whole))
    if (name.endsWith('.yaml') || sittings.some((end) => name.endsWith(end)))
      cpSync(join(whole, name), join(demo, name), { recursive: true });
});
afterAll(() => rmSync(demo, { recursive: true, force: true }));

describe('steadyrig report', () => {
  it('writes the page, and writes over nothing unless told to', async () => {
    const folder = temporaryFolder();
    const first = await runCli(['report', ...about], folder);
    expect(first).toMatchObject({ code: 0, stdout: '' });
    expect(first.stderr).toContain('written: report.html');
    const page = readFileSync(join(folder, 'report.html'), 'utf8');
    expect(page).toMatch(/^<!doctype html>/);
    writeFileSync(join(folder, 'report.html'), 'mine');
    const again = await runCli(['report', ...about], folder);
    expect(again.code).toBe(2);
    expect(again.stderr).toContain('report.html is there already');
    expect(readFileSync(join(folder, 'report.html'), 'utf8')).toBe('mine');
    expect((await runCli(['report', ...about, '--replace'], folder)).code).toBe(0);
  });

  it('prints text, Markdown and JSON, and then writes no page', async () => {
    const folder = temporaryFolder();
    for (const flag of ['--text', '--markdown', '--json']) {
      const { code, stdout } = await runCli(['report', ...about, flag], folder);
      expect(code).toBe(0);
      expect(stdout).toMatch(/invented/i);
    }
    expect(readdirSync(folder)).toEqual([]);
  });

  it('writes charts as SVG and PNG of 1920 by 1080, with their texts drawn', async () => {
    const folder = temporaryFolder();
    const { code } = await runCli(
      ['report', ...about, '--charts', 'slides', '--only', 'index'],
      folder,
    );
    expect(code).toBe(0);
    expect(readdirSync(join(folder, 'slides')).sort()).toEqual([
      'index-dark.png',
      'index-dark.svg',
      'index-light.png',
      'index-light.svg',
    ]);
    const png = PNG.sync.read(readFileSync(join(folder, 'slides/index-light.png')));
    expect([png.width, png.height]).toEqual([1920, 1080]);
    // The title is in the upper left corner: without a font there would be paper alone.
    let ink = 0;
    for (let y = 20; y < 70; y += 1)
      for (let x = 40; x < 700; x += 1) if ((png.data[(y * 1920 + x) * 4] ?? 255) < 100) ink += 1;
    expect(ink).toBeGreaterThan(1500);
    const odd = await runCli(['report', ...about, '--charts', 'slides', '--only', 'indx'], folder);
    expect(odd).toMatchObject({ code: 2 });
    expect(odd.stderr).toContain('no chart indx: did you mean index?');
  });

  it('draws without a background where asked to', async () => {
    const folder = temporaryFolder();
    await runCli(['report', ...about, '--charts', '.', '--only', 'price', '--transparent'], folder);
    const png = PNG.sync.read(readFileSync(join(folder, 'price-dark-transparent.png')));
    expect(png.data[3]).toBe(0);
  });

  it('publishes a sealed folder of nothing but what may be told', async () => {
    const folder = temporaryFolder();
    const home = join(folder, 'home/harbourmaster');
    mkdirSync(home, { recursive: true });
    const own = join(folder, 'own');
    mkdirSync(own);
    // What a person may write into a campaign without a thought.
    const text = readFileSync(campaign, 'utf8')
      .replace(
        /^title: .*$/m,
        'title: "From /home/harbourmaster/desk at 192.0.2.7, card 02:00:5e:10:00:01 (invented)"',
      )
      .replace('suite: desk.yaml', `suite: ${join(demo, 'desk.yaml')}`);
    writeFileSync(join(own, 'campaign.yaml'), text);
    const published = await runCli(
      ['report', 'own/campaign.yaml', '--results', demo, '--publish', 'out', '--with-logs'],
      folder,
    );
    expect(published.code).toBe(0);
    expect(published.stderr).toMatch(/taken out once more: .*<home>/);
    const files = execFileSync('find', ['out', '-type', 'f'], { cwd: folder, encoding: 'utf8' })
      .trim()
      .split('\n');
    expect(
      files.every((path) =>
        /^out\/(bagit\.txt|bag-info\.txt|(tag)?manifest-sha512\.txt|data\/(report\.(html|md|json)|ro-crate-metadata\.json|tables\/[a-z]+\.csv|charts\/[A-Za-z0-9.-]+\.(svg|png)|logs\/[^/]+\/[0-9]+-[a-z-]+\.std(out|err)\.txt))$/.test(
          path,
        ),
      ),
    ).toBe(true);
    for (const path of files.filter((name) => !name.endsWith('.png'))) {
      const content = readFileSync(join(folder, path), 'utf8');
      expect(content, path).not.toMatch(/harbourmaster|192\.0\.2\.7|02:00:5e/);
    }
    expect((await runCli(['verify', 'out'], folder)).code).toBe(0);
    execFileSync('sha512sum', ['--check', '--quiet', 'manifest-sha512.txt'], {
      cwd: join(folder, 'out'),
    });
    expect((await runCli(['report', ...about, '--publish', 'out'], folder)).code).toBe(2);
    expectCrate(join(folder, 'out/data'));
  });

  it.each<[string, readonly string[], string]>([
    ['a campaign that is not there', ['report', 'nowhere.yaml'], 'nowhere.yaml'],
    [
      'a single rig',
      ['report', 'first-8', '--results', demo],
      'a report compares two rigs or more',
    ],
    [
      'another baseline',
      ['report', ...about, '--baseline', 'third'],
      'baseline third is none of the rigs',
    ],
    [
      'a folder that cannot be written',
      ['report', ...about, '--tables', '/proc/none'],
      'cannot be written',
    ],
  ])('refuses %s without a stack trace', async (_, args, message) => {
    const { code, stderr } = await runCli(args, temporaryFolder());
    expect(code).toBe(2);
    expect(stderr).toContain(message);
    expect(stderr).not.toMatch(/\n {4}at /);
  });
});

/** RO-Crate 1.1, sections 2.1 (structure), 4.1 (metadata descriptor) and 4.2 (root, data entities). */
function expectCrate(folder: string): void {
  const crate = JSON.parse(readFileSync(join(folder, 'ro-crate-metadata.json'), 'utf8'));
  const entities: { '@id': string; '@type': string; [name: string]: unknown }[] = crate['@graph'];
  const byId = new Map(entities.map((entity) => [entity['@id'], entity]));
  expect(crate['@context']).toBe('https://w3id.org/ro/crate/1.1/context');
  expect(byId.size).toBe(entities.length);
  const descriptor = byId.get('ro-crate-metadata.json');
  expect(descriptor).toMatchObject({
    '@type': 'CreativeWork',
    about: { '@id': './' },
    conformsTo: { '@id': 'https://w3id.org/ro/crate/1.1' },
  });
  const root = byId.get('./');
  expect(root).toMatchObject({
    '@type': 'Dataset',
    name: expect.any(String),
    description: expect.any(String),
    license: expect.any(String),
  });
  expect(root?.['datePublished']).toMatch(/^\d{4}-\d\d-\d\d$/);
  const parts = root?.['hasPart'] as { '@id': string }[];
  expect(parts.length).toBeGreaterThan(10);
  for (const { '@id': id } of parts) {
    expect(byId.get(id)?.['@type']).toBe('File');
    expect(existsSync(join(folder, decodeURI(id))), id).toBe(true);
  }
  // Every reference leads somewhere.
  const references = JSON.stringify(
    entities.filter(({ '@id': id }) => id !== 'ro-crate-metadata.json'),
  ).matchAll(/\{"@id":"([^"]+)"\}/g);
  for (const [, id = ''] of references) expect(byId.has(id), id).toBe(true);
}
