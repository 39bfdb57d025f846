import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { encodeLine, firstSum, type JournalEntry } from '../../../src/journal/format.ts';
import { parseJournal, readJournal } from '../../../src/journal/reader.ts';
import { openJournal } from '../../../src/journal/writer.ts';
import { standingRuns } from '../../../src/model/standing-runs.ts';
import { sampleCorrection, sampleHandRun, sampleRun } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

function journalOf(entries: readonly JournalEntry[]): Buffer {
  let sum = firstSum;
  let text = '';
  for (const entry of entries) {
    const line = encodeLine(entry, sum);
    sum = line.sum;
    text += line.text;
  }
  return Buffer.from(text, 'utf8');
}

const run = sampleHandRun(0, 4120);
const correction = sampleCorrection({ from: 4120, to: 4210 });

describe('a correction in the journal', () => {
  it('is read back beside the run, which stays as it was written', () => {
    const journal = unwrap(parseJournal(journalOf([run, correction]), 'runs.jsonl'));
    expect(journal).toMatchObject({ runs: [run], corrections: [correction], tornBytes: 0 });
    expect(journal.runs[0]?.metrics[0]?.value).toBe(4120);
  });

  it('may be corrected again, from the value that stands', () => {
    const again = sampleCorrection({ from: 4210, to: 4120.5 });
    const { runs, corrections } = unwrap(
      parseJournal(journalOf([run, correction, again]), 'runs.jsonl'),
    );
    expect(standingRuns(runs, corrections)[0]?.metrics[0]?.value).toBe(4120.5);
  });

  it.each([
    ['before its run', [correction, run], 1, 'planned run 0, which is not recorded'],
    ['of a measured run', [sampleRun(), correction], 2, 'which was measured'],
    [
      'of a metric the run does not have',
      [run, sampleCorrection({ metric: 'scoer' })],
      2,
      'the metric scoer, which planned run 0 does not have',
    ],
    [
      'from another value than the one that stands',
      [run, correction, sampleCorrection({ from: 4120, to: 1 })],
      3,
      'changes 4120, but 4210 stands',
    ],
  ] as const)('%s is damage, with its line', (_, entries, line, message) => {
    expect(parseJournal(journalOf(entries), 'runs.jsonl')).toMatchObject({
      ok: false,
      error: { code: 'journal-damaged', line, message: expect.stringContaining(message) },
    });
  });

  it('cut off at any byte is torn, and the run before it stays', () => {
    const first = journalOf([run]).length;
    const whole = journalOf([run, correction]);
    for (let cut = first; cut < whole.length; cut += 1) {
      const journal = unwrap(parseJournal(whole.subarray(0, cut), 'runs.jsonl'));
      expect(journal, `cut at ${cut}`).toMatchObject({
        runs: [run],
        corrections: [],
        validBytes: first,
      });
    }
  });

  it('is one chain with the runs: a correction taken out is found', () => {
    const lines = journalOf([run, correction, sampleHandRun(1, 4130)])
      .toString()
      .split('\n');
    lines.splice(1, 1);
    expect(parseJournal(Buffer.from(lines.join('\n')), 'runs.jsonl')).toMatchObject({
      ok: false,
      error: { code: 'journal-damaged', line: 2 },
    });
  });

  it('without a reason, or of a newer version, is refused', () => {
    const { reason: _, ...rest } = correction;
    expect(parseJournal(journalOf([run, rest as typeof correction]), 'j')).toMatchObject({
      error: { code: 'record-invalid', message: expect.stringContaining('not a correction') },
    });
    const newer = { ...correction, schema: 'steadyrig/correction/2' } as unknown;
    expect(parseJournal(journalOf([run, newer as typeof correction]), 'j')).toMatchObject({
      error: { code: 'schema-too-new', line: 2 },
    });
  });

  it('goes to the disk like a run', async () => {
    const path = join(temporaryFolder(), 'runs.jsonl');
    const writer = await openJournal(path, 0, firstSum);
    await writer.append(run);
    await writer.append(correction);
    await writer.close();
    expect(unwrap(await readJournal(path)).corrections).toEqual([correction]);
  });
});
