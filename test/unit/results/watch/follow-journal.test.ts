import { appendFileSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { encodeLine, firstSum } from '../../../../src/journal/format.ts';
import { readJournal } from '../../../../src/journal/reader.ts';
import type { RunTelemetry } from '../../../../src/model/telemetry.ts';
import { followJournal } from '../../../../src/results/watch/follow-journal.ts';
import { sampleCorrection, sampleHandRun, sampleRun } from '../../../setup/samples.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { unwrap } from '../../../setup/unwrap.ts';

function journalText(records: readonly object[]): string {
  let sum = firstSum;
  return records
    .map((record) => {
      const line = encodeLine(record, sum);
      sum = line.sum;
      return line.text;
    })
    .join('');
}

const newFile = (): string => join(temporaryFolder(), 'runs.jsonl');
const heat = (changes: Partial<RunTelemetry>): { readonly telemetry: RunTelemetry } => ({
  telemetry: {
    ...{ startTemperature: null, meanTemperature: null, maxTemperature: null },
    ...{ meanClockHz: null, meanFastestClockHz: null, energyJoules: null },
    ...{ throttleEvents: null, throttleSeconds: null, stealShare: null },
    ...{ cpuPressureSome: null, memoryPressureSome: null, memoryPressureFull: null },
    ...{ ioPressureSome: null, ioPressureFull: null, samples: 3, absent: {} },
    ...changes,
  },
});

describe('following a journal', () => {
  it('has the runs that any reader has, as they are appended byte by byte', async () => {
    const path = newFile();
    const follower = followJournal(path);
    expect(await follower.read()).toMatchObject({ runs: [], damage: null });
    const text = journalText([sampleHandRun(0, 4120), sampleCorrection(), sampleRun({ plan: 1 })]);
    for (let at = 0; at < text.length; at += 97) {
      appendFileSync(path, text.slice(at, at + 97));
      const soFar = await follower.read();
      const whole = unwrap(await readJournal(path));
      expect(soFar.runs.map(({ plan }) => plan)).toEqual(whole.runs.map(({ plan }) => plan));
      expect(soFar.corrections).toEqual(whole.corrections);
      expect(soFar.damage).toBeNull();
    }
    expect((await follower.read()).runs).toHaveLength(2);
  });

  it('gives the same object while nothing is added', async () => {
    const path = newFile();
    writeFileSync(path, journalText([sampleRun()]));
    const follower = followJournal(path);
    const soFar = await follower.read();
    appendFileSync(path, '{"schema":"steadyrig/run/1","pl');
    expect(await follower.read()).toBe(soFar);
  });

  it('keeps the latest runs whole, and of the others no bulk', async () => {
    const path = newFile();
    const runs = Array.from({ length: 9 }, (_, plan) => sampleRun({ plan }));
    writeFileSync(path, journalText(runs));
    const { last, runs: kept } = await followJournal(path).read();
    expect(last).toEqual(runs.slice(-4));
    expect(kept).toHaveLength(9);
    expect(kept[8]).toEqual({ ...runs[8], accounting: null, logs: null });
  });

  it('knows the highest temperature and the runs slowed by heat', async () => {
    const path = newFile();
    writeFileSync(
      path,
      journalText([
        sampleRun({ plan: 0, ...heat({ maxTemperature: 71, throttleEvents: 2 }) }),
        sampleRun({ plan: 1, ...heat({ maxTemperature: 83, throttleEvents: 0 }) }),
        sampleRun({ plan: 2, ...heat({ maxTemperature: null, throttleEvents: null }) }),
      ]),
    );
    expect(await followJournal(path).read()).toMatchObject({ highestCelsius: 83, throttled: 1 });
  });

  it('says where it is damaged and shows what comes before; a journal made anew is read anew', async () => {
    const path = newFile();
    const text = journalText([0, 1, 2].map((plan) => sampleRun({ plan })));
    writeFileSync(path, text.replace('"plan":1', '"plan":7'));
    const follower = followJournal(path);
    const soFar = await follower.read();
    expect(soFar.runs).toHaveLength(1);
    expect(soFar.damage).toBe('line 2: the checksum does not fit the line and the one before it');
    truncateSync(path, 0);
    await follower.read();
    writeFileSync(path, text);
    expect(await follower.read()).toMatchObject({ damage: null, runs: { length: 3 } });
  });

  it('calls damaged what no reader takes: an attempt whose earlier one is not there', async () => {
    const path = newFile();
    writeFileSync(path, journalText([sampleRun(), sampleRun({ plan: 1, attempt: 2 })]));
    expect((await readJournal(path)).ok).toBe(false);
    expect(await followJournal(path).read()).toMatchObject({
      runs: { length: 1 },
      damage: 'line 2: attempt 2 at planned run 1 is recorded, but attempt 1 is not there',
    });
  });

  it('does not take a run by a newer steadyrig for one it knows', async () => {
    const path = newFile();
    writeFileSync(path, journalText([{ ...sampleRun(), schema: 'steadyrig/run/99' }]));
    expect((await followJournal(path).read()).damage).toContain('line 1: written as');
  });
});
