import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { fileSchema } from '../../../src/api/file-schema.ts';
import { encodeLine, firstSum } from '../../../src/journal/format.ts';
import { studiesPath } from '../../../src/results/layout.ts';
import { listSittings } from '../../../src/results/list-sittings.ts';
import { readStudies } from '../../../src/results/read-studies.ts';
import { writeStudy } from '../../../src/results/write-study.ts';
import { sampleStudy } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

describe('precision studies on the disk', () => {
  it('read back, oldest first, and are none without their folder', async () => {
    const results = temporaryFolder();
    expect(unwrap(await readStudies(results))).toEqual({ studies: [], problems: [] });
    const later = sampleStudy({ rig: 'a-rig', at: '2026-03-01T08:00:00.000Z' });
    const path = await writeStudy(results, later);
    await writeStudy(results, sampleStudy());
    const { studies, problems } = unwrap(await readStudies(results));
    expect(studies.map(({ study }) => study)).toEqual([sampleStudy(), later]);
    expect(problems).toEqual([]);
    expect(path).toBe(join(results, 'precision', 'a-rig-harbour-20260301T080000Z.json'));
    expect(JSON.parse(readFileSync(path, 'utf8'))).toMatchObject({ rig: 'a-rig' });
    expect(unwrap(await listSittings(results))).toEqual({ sittings: [], problems: [] });
  });

  it('fit the schema that is printed of them', async () => {
    const path = await writeStudy(temporaryFolder(), sampleStudy());
    const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(
      fileSchema('precision'),
    );
    expect(validate(JSON.parse(readFileSync(path, 'utf8')))).toBe(true);
    expect(validate({ ...sampleStudy(), sum: 'x' })).toBe(false);
  });

  it('are never written over', async () => {
    const results = temporaryFolder();
    const path = await writeStudy(results, sampleStudy());
    const before = readFileSync(path, 'utf8');
    await expect(writeStudy(results, sampleStudy({ boots: 9 }))).rejects.toThrow('EEXIST');
    expect(readFileSync(path, 'utf8')).toBe(before);
  });

  it('are refused once changed or cut, without losing the others', async () => {
    const results = temporaryFolder();
    const path = await writeStudy(results, sampleStudy());
    await writeStudy(results, sampleStudy({ rig: 'bench-b' }));
    const whole = readFileSync(path, 'utf8');
    const tampered = [
      whole.replace('"sb":0.006', '"sb":0.001'),
      whole.slice(0, -9),
      '',
      whole + whole,
      '{}',
    ];
    for (const text of tampered) {
      writeFileSync(path, text);
      const { studies, problems } = unwrap(await readStudies(results));
      expect(studies.map(({ study }) => study.rig)).toEqual(['bench-b']);
      expect(problems).toMatchObject([
        { code: 'journal-damaged', file: path, message: expect.stringContaining('make it anew') },
      ]);
    }
  });

  it('of a newer version, and files that are something else, are told apart from damage', async () => {
    const results = temporaryFolder();
    const write = (record: object): void => {
      const path = join(studiesPath(results), 'some.json');
      mkdirSync(dirname(path), { recursive: true });
      writeFileSync(path, encodeLine(record, firstSum).text);
    };
    write({ ...sampleStudy(), schema: 'steadyrig/precision/2', more: 1 });
    expect(unwrap(await readStudies(results)).problems).toMatchObject([{ code: 'schema-too-new' }]);
    write({ ...sampleStudy(), digest: 'x' });
    expect(unwrap(await readStudies(results)).problems).toMatchObject([
      { code: 'record-invalid', message: expect.stringContaining('digest') },
    ]);
  });
});
