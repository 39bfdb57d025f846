import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { type GeneratedContent, generatedContents } from '../../../../src/model/suite.ts';
import { makeCorpus } from '../../../../src/workloads/corpus/corpus.ts';
import { generateParts } from '../../../../src/workloads/generate/generate-parts.ts';
import { frameBytes, framesOf } from '../../../../src/workloads/generate/video.ts';
import { needs } from '../../../setup/needs.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';

function bytesOf(content: GeneratedContent, sizeBytes: number, seed: number): Buffer {
  return Buffer.concat([...generateParts({ content, sizeBytes, seed })]);
}

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** A file of a generated input. */
function fileOf(content: GeneratedContent, sizeBytes: number, ending: string): string {
  const path = join(temporaryFolder(), `input.${ending}`);
  writeFileSync(path, bytesOf(content, sizeBytes, 7));
  return path;
}

describe('generated inputs', () => {
  it.each([
    ['text', 'a96bb6cfd77f923bf649d569317cb80a180ab944ac4a81bd963d275de9c8dc14'],
    ['binary', '5eb4748cd5994f59f8e5427b520cd3e547d139188a278b6a6e9f8ad6fd70f27b'],
    ['mixed', '6b23e062e8f869d9f01d6eed332c4094dc78f046095b7dd3d14c8882091271be'],
    ['video', '49cccced298f9293478cc1aec54148a0e6930358aae35704e7d8f448c641bd9d'],
    ['c-source', '7b1e621b565affbd167a8638da24be95b71270d7b1960f44b3ab3a60405fad78'],
    ['table', 'fc859eeef861ff6d3e7761b369895a881f1f2cbc3760a47cc616519ac17d8867'],
  ] as const)('are the bytes on record: %s of 1,000,000 bytes, seed 7', (content, sum) => {
    // What one machine made; the same on every machine, since suites state such checksums.
    expect(sha256(bytesOf(content, 1_000_000, 7))).toBe(sum);
  });

  it('differ by seed', () => {
    for (const content of generatedContents)
      expect(sha256(bytesOf(content, 20_000, 1)), content).not.toBe(
        sha256(bytesOf(content, 20_000, 2)),
      );
  });

  it('have the size asked, as near as their kind allows', () => {
    for (const size of [1, 100_000, 345_648 * 2]) {
      for (const content of ['text', 'binary', 'mixed'] as const)
        expect(bytesOf(content, size, 3).length).toBe(size);
      const table = bytesOf('table', size, 3).length;
      if (size > 1000) expect(size - table).toBeGreaterThanOrEqual(0);
      if (size > 1000) expect(size - table).toBeLessThan(120);
      const source = bytesOf('c-source', size, 3).length;
      if (size > 5000) expect(source - size).toBeGreaterThanOrEqual(0);
      if (size > 5000) expect(source - size).toBeLessThan(3000);
    }
  });

  it('of video have whole frames, the nearest number, one at least', () => {
    expect([0, 1, 2.4, 2.6, 300].map((frames) => framesOf(43 + frames * frameBytes))).toEqual([
      1, 1, 2, 3, 300,
    ]);
    for (const size of [0, frameBytes * 2.4]) {
      const video = bytesOf('video', size, 3);
      const heading = video.indexOf('\n') + 1;
      expect((video.length - heading) % frameBytes).toBe(0);
      expect((video.length - heading) / frameBytes).toBe(framesOf(size));
    }
  });

  it('of text are what the shipped workloads work on', () => {
    expect(sha256(bytesOf('mixed', 200_001, 5))).toBe(sha256(makeCorpus('mixed', 200_001, 5)));
  });

  it('begin alike whatever their size, but for C source', () => {
    for (const content of ['text', 'video', 'table'] as const) {
      const [short, long] = [bytesOf(content, 400_000, 3), bytesOf(content, 1_200_000, 3)];
      expect(long.subarray(0, short.length).equals(short), content).toBe(true);
    }
  });
});

const script = fileURLToPath(new URL('../../../../dist/workloads/generate.js', import.meta.url));

describe('the generating program', () => {
  const generate = (request: string) =>
    spawnSync(process.execPath, [script, request], { encoding: 'utf8' });

  it('writes a new file and tells its size and sum', () => {
    const path = join(temporaryFolder(), 'text');
    const request = { content: 'text', sizeBytes: 300_000, seed: 9, path };
    const { status, stdout } = generate(JSON.stringify(request));
    expect(status).toBe(0);
    const bytes = readFileSync(path);
    expect(JSON.parse(stdout)).toEqual({ size: 300_000, sha256: sha256(bytes) });
    expect(bytes.equals(bytesOf('text', 300_000, 9))).toBe(true);
    const again = generate(JSON.stringify(request));
    expect(again).toMatchObject({ status: 1, stdout: '' });
    expect(again.stderr).toContain('EEXIST');
  });

  it('refuses a request that it does not understand', () => {
    const path = join(temporaryFolder(), 'text');
    const good = { content: 'text', sizeBytes: 10, seed: 9, path };
    const bad = [
      '',
      'x',
      '[]',
      JSON.stringify({ ...good, content: 'prose' }),
      JSON.stringify({ ...good, sizeBytes: -1 }),
      JSON.stringify({ ...good, sizeBytes: 1.5 }),
      JSON.stringify({ ...good, seed: 2 ** 32 }),
      JSON.stringify({ ...good, path: '' }),
    ];
    for (const request of bad) {
      const { status, stderr } = generate(request);
      expect(status, request).toBe(2);
      expect(stderr.trim().split('\n'), request).toHaveLength(1);
    }
    expect(existsSync(path)).toBe(false);
  });
});

const gcc = needs.program('gcc');
const ffprobe = needs.program('ffprobe');
const python = needs.program('python3');

describe('generated inputs seen by others', () => {
  it.skipIf(gcc.missing)('compile without a warning and without undefined behaviour (gcc)', () => {
    const source = fileOf('c-source', 100_000, 'c');
    const warnings = ['-std=c99', '-pedantic', '-Wall', '-Wextra', '-Werror'];
    const printed = [['-O2'], ['-O0', '-fsanitize=undefined', '-fno-sanitize-recover=all']].map(
      (options) => {
        execFileSync(gcc.path, [...warnings, ...options, source, '-o', `${source}.out`]);
        return execFileSync(`${source}.out`, { encoding: 'utf8' });
      },
    );
    expect(printed[0]).toMatch(/^[0-9a-f]{8}\n$/);
    expect(printed[1]).toBe(printed[0]);
  });

  it.skipIf(ffprobe.missing)('are video with as many frames as they should have (ffprobe)', () => {
    const video = fileOf('video', 12 * frameBytes, 'y4m');
    const entries = 'stream=width,height,pix_fmt,r_frame_rate,nb_read_frames';
    const args = ['-v', 'error', '-count_frames', '-show_entries', `${entries}:format=format_name`];
    const facts = JSON.parse(
      execFileSync(ffprobe.path, [...args, '-of', 'json', video], { encoding: 'utf8' }),
    );
    expect(facts.format.format_name).toBe('yuv4mpegpipe');
    expect(facts.streams[0]).toMatchObject({
      width: 640,
      height: 360,
      r_frame_rate: '30/1',
      nb_read_frames: '12',
    });
    expect(facts.streams[0].pix_fmt).toMatch(/^yuvj?420p$/);
  });

  it.skipIf(python.missing)(
    'are a table that the csv module reads in strict mode (python3)',
    () => {
      const table = fileOf('table', 200_000, 'csv');
      const reader = `
import csv, datetime, decimal, hashlib, json, sys
rows = list(csv.DictReader(open(sys.argv[1], newline='', encoding='ascii'), strict=True))
print(json.dumps({
  'fields': list(rows[0]), 'rows': len(rows), 'extra': sum(None in row for row in rows),
  'ids': [int(row['id']) for row in rows] == list(range(1, len(rows) + 1)),
  'comma': sum(',' in row['name'] for row in rows), 'quote': sum('"' in row['name'] for row in rows),
  'cities': len({row['city'] for row in rows}),
  'cheapest': str(min(decimal.Decimal(row['price']) for row in rows)),
  'decimals': {len(row['price'].split('.')[1]) for row in rows} == {2},
  'quantities': all(0 <= int(row['quantity']) < 500 for row in rows),
  'first': min(datetime.date.fromisoformat(row['day']) for row in rows).year,
  'sum': hashlib.sha256(open(sys.argv[1], 'rb').read()).hexdigest(),
}))`;
      const facts = JSON.parse(
        execFileSync(python.path, ['-c', reader, table], { encoding: 'utf8' }),
      );
      expect(facts).toMatchObject({
        fields: ['id', 'name', 'city', 'price', 'quantity', 'day'],
        extra: 0,
        ids: true,
        decimals: true,
        quantities: true,
        first: 2015,
        sum: sha256(bytesOf('table', 200_000, 7)),
      });
      expect(facts.rows).toBeGreaterThan(3000);
      expect(facts.comma / facts.rows).toBeCloseTo(1 / 8, 1);
      expect(facts.quote).toBeGreaterThan(facts.rows / 32);
      expect(facts.cities).toBeGreaterThan(30);
    },
  );
});
