import { describe, expect, it } from 'vitest';
import { type UnderWay, underWaySchema } from '../../../../src/model/under-way.ts';
import { type HeartFacts, judgeHeart } from '../../../../src/results/watch/judge-heart.ts';

const beat = Date.parse('2026-01-31T20:15:00.000Z');
const marker: UnderWay = {
  schema: underWaySchema,
  pid: 4711,
  bootId: '64837e2d-dcc9-4c1c-82fe-db151f30a55b',
  beatAt: new Date(beat).toISOString(),
  phase: 'run',
  run: null,
  secondsLeft: null,
};

const kind = (ageSeconds: number, changes: Partial<HeartFacts> = {}): string =>
  judgeHeart({
    underWay: marker,
    now: new Date(beat + ageSeconds * 1000),
    isOurBoot: true,
    isPidThere: true,
    unchangedSeconds: 0,
    ...changes,
  }).kind;

const day = 86_400;

describe('a heartbeat', () => {
  it('beats while it is no older than three', () => {
    for (const age of [0, 5, 14.9]) expect(kind(age)).toBe('beating');
  });

  it('is in doubt at first when it looks older, and stale when the next one does not come', () => {
    expect(kind(16)).toBe('doubtful');
    expect(kind(16, { unchangedSeconds: 5 })).toBe('doubtful');
    expect(kind(22, { unchangedSeconds: 6 })).toBe('stale');
  });

  it('is not taken for stale when the clock was set by a day a moment ago, in either direction', () => {
    expect(kind(day)).toBe('doubtful');
    expect(kind(-day)).toBe('doubtful');
    expect(kind(day, { unchangedSeconds: 7 })).toBe('stale');
    expect(kind(-day, { unchangedSeconds: 7 })).toBe('stale');
  });

  it('of another machine, whose clock may differ, is only judged by whether it goes on', () => {
    const other = { isOurBoot: false, isPidThere: false };
    expect(kind(3, other)).toBe('beating');
    expect(kind(120, { ...other, unchangedSeconds: 4 })).toBe('doubtful');
    expect(kind(-120, { ...other, unchangedSeconds: 14 })).toBe('doubtful');
    expect(kind(135, { ...other, unchangedSeconds: 15 })).toBe('stale');
    // Its clock is ahead by so much that the age never shows.
    expect(kind(0, { ...other, unchangedSeconds: 17 })).toBe('stale');
  });

  it('of a process that is gone is stale after one beat, since a container may hide the process', () => {
    const gone = { isPidThere: false };
    expect(kind(2, gone)).toBe('doubtful');
    expect(kind(8, { ...gone, unchangedSeconds: 6 })).toBe('stale');
    expect(kind(16, gone)).toBe('stale');
  });

  it('that is not there at all is waited for, for the time of three', () => {
    const none = { underWay: null };
    expect(kind(0, none)).toBe('doubtful');
    expect(kind(0, { ...none, unchangedSeconds: 14 })).toBe('doubtful');
    expect(kind(0, { ...none, unchangedSeconds: 15 })).toBe('stale');
  });
});
