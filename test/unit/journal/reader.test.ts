import { describe, expect, it } from 'vitest';
import { encodeLine, firstSum } from '../../../src/journal/format.ts';
import { parseJournal } from '../../../src/journal/reader.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import { sampleHandRun, sampleRun } from '../../setup/samples.ts';
import { unwrap } from '../../setup/unwrap.ts';

function journalOf(runs: readonly RunRecord[]): Buffer {
  let sum = firstSum;
  let text = '';
  for (const run of runs) {
    const line = encodeLine(run, sum);
    sum = line.sum;
    text += line.text;
  }
  return Buffer.from(text, 'utf8');
}

const runs = [0, 1, 2].map((plan) => sampleRun({ plan, workload: plan === 1 ? 'größer' : 'pack' }));
const whole = journalOf(runs);
const lastStart = whole.lastIndexOf(0x0a, whole.length - 2) + 1;
const firstLineEnd = whole.indexOf(0x0a) + 1;

describe('a journal', () => {
  it('reads back what was written', () => {
    const journal = unwrap(parseJournal(whole, 'runs.jsonl'));
    expect(journal).toMatchObject({ runs, validBytes: whole.length, tornBytes: 0 });
  });

  it('is read by any JSON Lines reader', () => {
    const lines = whole.toString('utf8').trimEnd().split('\n');
    expect(lines.map((line) => JSON.parse(line).plan)).toEqual([0, 1, 2]);
  });

  it('cut off at any byte keeps every whole line and drops the torn one', () => {
    for (let cut = firstLineEnd; cut < whole.length; cut += 1) {
      const journal = unwrap(parseJournal(whole.subarray(0, cut), 'runs.jsonl'));
      const kept = cut < lastStart ? 1 : 2;
      expect(journal.runs, `cut at ${cut}`).toHaveLength(kept);
      expect(journal.tornBytes).toBe(cut - journal.validBytes);
    }
  });

  it('with any flipped bit before its last line is refused with the line', () => {
    for (let at = 0; at < lastStart; at += 1) {
      for (const bit of [1, 128]) {
        const damaged = Buffer.from(whole);
        damaged[at] = (damaged[at] ?? 0) ^ bit;
        const read = parseJournal(damaged, 'runs.jsonl');
        expect(read.ok, `byte ${at}, bit ${bit}`).toBe(false);
        if (!read.ok)
          expect(read.error).toMatchObject({ code: 'journal-damaged', file: 'runs.jsonl' });
      }
    }
  });

  it('with a flipped bit in its whole last line is refused, not shortened', () => {
    for (let at = lastStart; at < whole.length; at += 1) {
      const damaged = Buffer.from(whole);
      damaged[at] = (damaged[at] ?? 0) ^ 2;
      expect(parseJournal(damaged, 'runs.jsonl').ok, `byte ${at}`).toBe(false);
    }
  });

  it('that a power cut left with NUL bytes at its end is torn, not damaged', () => {
    const zeros = Buffer.concat([whole, Buffer.alloc(4096)]);
    expect(unwrap(parseJournal(zeros, 'runs.jsonl'))).toMatchObject({ tornBytes: 4096 });
    const partial = Buffer.concat([whole.subarray(0, lastStart + 10), Buffer.alloc(100)]);
    expect(unwrap(parseJournal(partial, 'runs.jsonl')).runs).toHaveLength(2);
  });

  it('with a line missing, doubled or out of order is refused', () => {
    const lines = whole.toString('utf8').split(/(?<=\n)/);
    const [a = '', b = '', c = ''] = lines;
    for (const text of [a + c, a + a + b + c, b + a + c, a + b + b + c]) {
      expect(parseJournal(Buffer.from(text), 'runs.jsonl').ok).toBe(false);
    }
  });

  it('holds every attempt at a planned run, in the order they were made', () => {
    const attempts = [
      sampleRun({ plan: 4, outcome: 'failed', failure: { code: 'lost', message: 'power cut' } }),
      sampleRun({ plan: 5, round: 2 }),
      sampleRun({ plan: 4, attempt: 2 }),
      sampleRun({ plan: 4, attempt: 3 }),
    ];
    expect(unwrap(parseJournal(journalOf(attempts), 'j')).runs).toEqual(attempts);
  });

  it.each([
    ['a repeat of an attempt', [1, 1], 2, 'attempt 1 at planned run 4 is recorded twice'],
    ['a gap between attempts', [1, 3], 2, 'but attempt 2 is not there'],
    ['a later attempt without the first', [2], 1, 'but attempt 1 is not there'],
    [
      'attempts in the wrong order',
      [1, 2, 3, 2],
      4,
      'attempt 2 at planned run 4 is recorded twice',
    ],
  ] as const)('with %s is refused, even with good checksums', (_, attempts, line, message) => {
    const damaged = journalOf(attempts.map((attempt) => sampleRun({ plan: 4, attempt })));
    expect(parseJournal(damaged, 'j')).toMatchObject({
      error: { code: 'journal-damaged', line, message: expect.stringContaining(message) },
    });
  });

  it('whose attempts at one planned run are of different workloads is refused', () => {
    const mixed = [sampleRun({ plan: 4 }), sampleRun({ plan: 4, attempt: 2, workload: 'other' })];
    expect(parseJournal(journalOf(mixed), 'j')).toMatchObject({ error: { line: 2 } });
  });

  it('that has a figure read by hand twice is refused: it is corrected instead', () => {
    const twice = [sampleHandRun(0, 4120), sampleHandRun(0, 4130, { attempt: 2 })];
    expect(parseJournal(journalOf(twice), 'j')).toMatchObject({
      error: { line: 2, message: 'planned run 0 is read by hand, but recorded again' },
    });
  });

  it('of a newer version is refused with a clear message', () => {
    const newer = journalOf([{ ...sampleRun(), schema: 'steadyrig/run/2' as never }]);
    const read = parseJournal(newer, 'runs.jsonl');
    expect(read).toMatchObject({ error: { code: 'schema-too-new', line: 1 } });
    if (!read.ok) expect(read.error.message).toContain('newer version');
  });

  it('whose record breaks the schema is refused with the member', () => {
    const odd = journalOf([{ ...sampleRun(), leftBehind: -1 }]);
    const read = parseJournal(odd, 'runs.jsonl');
    expect(read).toMatchObject({ error: { code: 'record-invalid', line: 1 } });
    if (!read.ok) expect(read.error.message).toContain('leftBehind');
  });

  it('may be empty: nothing was run yet', () => {
    expect(unwrap(parseJournal(Buffer.alloc(0), 'j'))).toMatchObject({
      runs: [],
      lastSum: firstSum,
    });
  });
});
