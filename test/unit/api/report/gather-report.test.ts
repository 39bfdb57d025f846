import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { excludeRun } from '../../../../src/api/exclude-run.ts';
import { fileSchema } from '../../../../src/api/file-schema.ts';
import { gatherReport } from '../../../../src/api/report/gather-report.ts';
import type { Report } from '../../../../src/model/report.ts';
import { reportDefinition } from '../../../../src/model/schemas/report-schema.ts';
import { renderReportMarkdown } from '../../../../src/report/report-markdown.ts';
import { renderReportText } from '../../../../src/report/report-text.ts';
import { expectGolden } from '../../../setup/golden.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { unwrap } from '../../../setup/unwrap.ts';

const demo = fileURLToPath(new URL('../../../../results/harbour-lane', import.meta.url));
const now = new Date('2026-03-01T10:00:00Z');
let report: Report;

beforeAll(async () => {
  report = unwrap(await gatherReport([join(demo, 'campaign.yaml')], { results: demo, now })).report;
});

describe('a report of the demonstration', () => {
  it('fits its schema, as it is and as JSON', () => {
    const text = JSON.parse(JSON.stringify(report));
    const validate = new Ajv2020({
      strict: true,
      strictRequired: false,
      strictTuples: false,
      validateFormats: false,
    }).compile(fileSchema('report'));
    expect(validate(text), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
    expect(reportDefinition.safeParse(text).error).toBeUndefined();
  });

  it('tells in 80 columns and in Markdown what was found, and what limits it', () => {
    expectGolden('report/harbour-lane.txt', `${renderReportText(report)}\n`);
    expectGolden('report/harbour-lane.md', renderReportMarkdown(report));
    for (const line of renderReportText(report).split('\n'))
      expect([...line].length).toBeLessThanOrEqual(80);
  });

  it('traces every mean to its runs: the mean of those that count is the figure', () => {
    for (const { metric, better, rigs } of report.metrics)
      for (const { mean, runs } of rigs) {
        const values = runs.filter(({ excluded }) => excluded === null).map(({ value }) => value);
        const sum = (of: (value: number) => number): number =>
          values.reduce((total, value) => total + of(value), 0);
        // Rates by the harmonic mean, costs by the arithmetic one.
        const expected =
          better === 'higher'
            ? values.length / sum((value) => 1 / value)
            : sum((value) => value) / values.length;
        expect(mean / expected, metric).toBeCloseTo(1, 12);
      }
  });

  it('finds the planted oddities: the firmware nobody declared, the throttling sitting, the drift', () => {
    const kinds = new Map(
      report.quality.map(({ kind, subject, text }) => [kind, `${subject} ${text}`]),
    );
    expect(kinds.get('throttling')).toContain('46f4');
    expect(
      report.quality.filter(({ kind }) => kind === 'confounding').map(({ text }) => text),
    ).toContain('firmware.version: 1.20 → 1.31');
    expect(kinds.has('baseline-drift')).toBe(true);
    expect(
      report.inventory
        .filter(({ differs, declared }) => differs && !declared)
        .map(({ path }) => path),
    ).toEqual(['cpu.microcode', 'firmware.version', 'firmware.date']);
    expect(report.invented).toBe(true);
  });

  it('has the seal of every sitting, checked', () => {
    expect(report.sources).toHaveLength(18);
    expect(
      report.sources.every(
        ({ seal, isSealChecked }) => /^[0-9a-f]{128}$/.test(seal ?? '') && isSealChecked,
      ),
    ).toBe(true);
  });

  it('has the course of every sitting, with its peaks', () => {
    const hot = report.courses.find(({ sitting }) => sitting.endsWith('46f4'));
    const temperature = hot?.series.find(({ kind }) => kind === 'temperature');
    const lines = readFileSync(join(demo, `${hot?.sitting}/data/telemetry.jsonl`), 'utf8')
      .trim()
      .split('\n')
      .slice(1);
    const highest = Math.max(
      ...lines.map((line) => JSON.parse(line).values['temp/coretemp.0/package-id-0'] ?? 0),
    );
    expect(Math.max(...(temperature?.points ?? []).map(({ high }) => high))).toBe(highest);
    expect(hot?.runs).toHaveLength(24);
  });
});

describe('a report of rigs named by hand', () => {
  it('takes the baseline asked for and refuses one that is not there', async () => {
    const made = unwrap(
      await gatherReport(['first-8', 'second-8'], { results: demo, now, baseline: 'second-8' }),
    ).report;
    expect(made.rigs.map(({ label }) => label)).toEqual(['second-8', 'first-8']);
    expect(made.comparisons[0].baseline).toBe('second-8');
    expect(made).toMatchObject({ question: null, worth: null });
    const wrong = await gatherReport(['first-8', 'second-8'], { results: demo, baseline: 'third' });
    expect(wrong.ok ? '' : wrong.error[0]?.message).toBe(
      'baseline third is none of the rigs first-8, second-8',
    );
    const one = await gatherReport(['first-8'], { results: demo });
    expect(one.ok ? '' : one.error[0]?.message).toContain('a report compares two rigs or more');
  });

  it('tells exclusions with their reason, keeps the runs, and says what is not sealed', async () => {
    const results = temporaryFolder();
    for (const id of ['20260202T090749Z-first-8-desk-e5c7', '20260203T092422Z-second-8-desk-7902'])
      cpSync(join(demo, id), join(results, id), { recursive: true });
    const open = join(results, '20260203T092422Z-second-8-desk-7902');
    for (const name of [
      'bagit.txt',
      'bag-info.txt',
      'manifest-sha512.txt',
      'tagmanifest-sha512.txt',
    ])
      rmSync(join(open, name));
    const folder = join(results, '20260202T090749Z-first-8-desk-e5c7');
    unwrap(await excludeRun(folder, { workload: 'pack', round: 2, reason: 'the window was open' }));
    const { report: made } = unwrap(await gatherReport(['first-8', 'second-8'], { results, now }));
    const texts = made.quality.map(({ kind, text }) => `${kind}: ${text}`);
    expect(
      texts.some((text) => text.startsWith('exclusions: ') && text.includes('the window was open')),
    ).toBe(true);
    expect(texts).toContain('seals: not sealed: nothing tells whether it changed since');
    expect(made.answer[0]).toContain('In these two sittings');
    const runs = made.metrics.find(({ workload }) => workload === 'pack')?.rigs[0]?.runs;
    expect(runs?.filter(({ excluded }) => excluded !== null)).toHaveLength(1);
    expect(runs).toHaveLength(5);
  });

  it('names sittings of a campaign that are not ended, and rigs that have no other', async () => {
    const results = temporaryFolder();
    for (const id of [
      '20260202T090749Z-first-8-desk-e5c7',
      '20260203T092422Z-second-8-desk-7902',
      '20260204T091448Z-second-16-desk-6a3c',
    ])
      cpSync(join(demo, id), join(results, id), { recursive: true });
    for (const name of ['campaign.yaml', 'desk.yaml'])
      cpSync(join(demo, name), join(results, name));
    const open = join(results, '20260204T091448Z-second-16-desk-6a3c');
    for (const name of [
      'bagit.txt',
      'bag-info.txt',
      'manifest-sha512.txt',
      'tagmanifest-sha512.txt',
    ])
      rmSync(join(open, name));
    const path = join(open, 'data/sitting.json');
    const sitting = JSON.parse(readFileSync(path, 'utf8'));
    writeFileSync(path, JSON.stringify({ ...sitting, state: 'interrupted', endedAt: null }));
    const { report: made } = unwrap(
      await gatherReport([join(results, 'campaign.yaml')], { results, now }),
    );
    expect(made.rigs.map(({ label }) => label)).toEqual(['first-8', 'second-8']);
    const kept = made.quality.filter(({ kind }) => kind === 'open-sittings');
    expect(kept.map(({ text }) => text)).toEqual([
      'left out: 20260204T091448Z-second-16-desk-6a3c is interrupted; once it is complete it counts',
      'without a finished sitting so far: first-16, second-16',
    ]);
    // Nothing that single sittings cannot say.
    expect(made.answer.join(' ')).toContain('since single sittings say nothing of the rigs');
  });
});
