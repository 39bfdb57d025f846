import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, it } from 'vitest';
import { fileSchema } from '../../../src/api/file-schema.ts';
import { weighRigs } from '../../../src/api/weigh-rigs.ts';
import { renderWorth } from '../../../src/report/worth-page.ts';
import { expectGolden } from '../../setup/golden.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const demo = fileURLToPath(new URL('../../../results/harbour-lane', import.meta.url));
const weighed = await weighRigs(join(demo, 'campaign.yaml'), { results: demo });

it('weighs stored sittings: the page, and JSON that fits its schema', () => {
  const worth = unwrap(weighed);
  expectGolden('worth/harbour-lane.txt', `${renderWorth(worth)}\n`);
  for (const line of renderWorth(worth).split('\n'))
    expect([...line].length).toBeLessThanOrEqual(80);
  const validate = new Ajv2020({
    strict: true,
    strictRequired: false,
    strictTuples: false,
  }).compile(fileSchema('worth'));
  expect(validate(JSON.parse(JSON.stringify(worth))), JSON.stringify(validate.errors)).toBe(true);
});

it('converts totals at the rate and date of the file, to the minor unit', () => {
  const { rigs, rates } = unwrap(weighed);
  const { value } = rigs.find(({ label }) => label === 'first-16')?.builds[0] ?? {};
  // 424.40 EUR and 79.00 USD at 0.92: 424.40 + 72.68.
  expect(value).toMatchObject({
    currencies: [
      { amount: '424.40', currency: 'EUR' },
      { amount: '79.00', currency: 'USD' },
    ],
    together: { amount: '497.08', currency: 'EUR' },
  });
  expect(rates).toEqual([
    { from: 'USD', to: 'EUR', rate: '0.92', date: '2026-01-13', source: 'invented' },
  ]);
});

it('takes energy from the runs: joules a task are their mean, and the year is mean power by hours by price', () => {
  const worth = unwrap(weighed);
  const own = worth.rigs.find(({ label }) => label === 'second-8')?.energy;
  const sittings = [
    '20260203T092422Z-second-8-desk-7902',
    '20260203T110718Z-second-8-desk-1670',
    '20260212T091024Z-second-8-desk-0d92',
    '20260212T110552Z-second-8-desk-ba3a',
  ];
  const joules = sittings.flatMap((id) =>
    readFileSync(join(demo, id, 'data/runs.jsonl'), 'utf8')
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line))
      .filter(({ phase, workload }) => phase === 'repeat' && workload === 'pack')
      .map(({ telemetry }) => telemetry.energyJoules as number),
  );
  const task = own?.tasks.find(({ workload }) => workload === 'pack');
  const mean = joules.reduce((sum, one) => sum + one, 0) / joules.length;
  // The product's mean is on the log scale over sittings: the same within their spread.
  expect(Math.abs((task?.value ?? 0) / mean - 1)).toBeLessThan(0.005);
  const hours = 1500;
  const kilowattHours = ((own?.meanPower?.value ?? 0) * hours) / 1000;
  expect(own?.running?.kilowattHours).toBeCloseTo(kilowattHours, 9);
  expect(own?.running?.cost).toEqual({
    amount: (kilowattHours * 0.31).toFixed(2),
    currency: 'EUR',
  });
});

it('says what would bring currencies together', async () => {
  const folder = temporaryFolder();
  copyFileSync(join(demo, 'desk.yaml'), join(folder, 'desk.yaml'));
  const text = readFileSync(join(demo, 'campaign.yaml'), 'utf8');
  const notesOf = async (changed: string): Promise<string> => {
    const file = join(folder, 'campaign.yaml');
    writeFileSync(file, changed);
    return unwrap(await weighRigs(file, { results: folder })).notes.join('\n');
  };
  const without = text.replace(/^ {2}rates:.*\n/m, '');
  expect(await notesOf(text)).not.toContain('rate between');
  expect(await notesOf(without)).toContain('no rate between USD and EUR: add one');
  expect(await notesOf(without.replace(/^ {2}report-in:.*\n/m, ''))).toContain(
    'prices are in EUR and USD: name one to report in',
  );
});

it('gives prices alone where nothing was measured', async () => {
  const worth = unwrap(await weighRigs(join(demo, 'campaign.yaml'), { results: '/nonexistent' }));
  expect(worth.rigs.map(({ index }) => index)).toEqual([null, null, null, null]);
  expect(worth.notes.some((note) => note.includes('0 of 4 sittings are finished'))).toBe(true);
});
