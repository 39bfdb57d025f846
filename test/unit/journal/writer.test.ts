import { appendFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { firstSum } from '../../../src/journal/format.ts';
import { readJournal } from '../../../src/journal/reader.ts';
import { openJournal } from '../../../src/journal/writer.ts';
import { sampleRun } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

describe('openJournal', () => {
  it('writes lines that read back', async () => {
    const path = join(temporaryFolder(), 'runs.jsonl');
    const journal = await openJournal(path, 0, firstSum);
    await journal.append(sampleRun({ plan: 0 }));
    await journal.append(sampleRun({ plan: 1 }));
    await journal.close();
    expect(unwrap(await readJournal(path)).runs.map(({ plan }) => plan)).toEqual([0, 1]);
  });

  it('cuts a torn tail off and goes on after the last good line', async () => {
    const path = join(temporaryFolder(), 'runs.jsonl');
    const first = await openJournal(path, 0, firstSum);
    await first.append(sampleRun({ plan: 0 }));
    await first.close();
    appendFileSync(path, '{"schema":"steadyrig/run/1","plan":1,"pha');
    const torn = unwrap(await readJournal(path));
    expect(torn.tornBytes).toBe(41);
    const second = await openJournal(path, torn.validBytes, torn.lastSum);
    await second.append(sampleRun({ plan: 1 }));
    await second.close();
    const repaired = unwrap(await readJournal(path));
    expect(repaired.runs.map(({ plan }) => plan)).toEqual([0, 1]);
    expect(repaired.tornBytes).toBe(0);
    expect(readFileSync(path, 'utf8').split('\n')).toHaveLength(3);
  });
});
