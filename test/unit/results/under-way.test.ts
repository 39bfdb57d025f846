import { existsSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openUnderWay, readUnderWay, type UnderWayState } from '../../../src/results/under-way.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

const bootId = '6f1d0d50-2f6b-4d0e-9c1e-1f0a4c8f3a11';
const at = new Date('2026-01-31T20:15:00.000Z');
const later = new Date('2026-01-31T20:15:05.250Z');
const state: UnderWayState = {
  phase: 'run',
  run: { plan: 4, attempt: 2, since: at.toISOString() },
  secondsLeft: 90.5,
};

describe('the marker of a sitting under way', () => {
  it('says what is done now, and a heartbeat changes its time alone', async () => {
    const folder = temporaryFolder();
    const marker = openUnderWay(folder, { pid: 4711, bootId });
    await marker.write(state, at);
    const written = { schema: 'steadyrig/under-way/1', pid: 4711, bootId, ...state };
    expect(await readUnderWay(folder)).toEqual({ ...written, beatAt: at.toISOString() });
    marker.beat(later);
    expect(await readUnderWay(folder)).toEqual({ ...written, beatAt: later.toISOString() });
    expect(readdirSync(folder)).toEqual(['under-way.json']);
  });

  it('keeps the order of what is told and written, and leaves nothing behind', async () => {
    const folder = temporaryFolder();
    const marker = openUnderWay(folder, { pid: 1, bootId: null });
    marker.tell({ phase: 'cooldown', run: null, secondsLeft: null }, at);
    await marker.write(state, at);
    expect(await readUnderWay(folder)).toMatchObject({ phase: 'run', bootId: null });
    marker.tell({ phase: 'sealing', run: null, secondsLeft: 0 }, at);
    await marker.remove();
    marker.beat(later);
    expect(readdirSync(folder)).toEqual([]);
    expect(await readUnderWay(folder)).toBeNull();
  });

  it('rejects when it cannot be on the disk, but news without a promise are only lost', async () => {
    const marker = openUnderWay(join(temporaryFolder(), 'gone'), { pid: 1, bootId: null });
    marker.tell(state, at);
    await expect(marker.write(state, at)).rejects.toThrow('ENOENT');
  });

  it('is read as absent when it is not whole', async () => {
    const folder = temporaryFolder();
    const path = join(folder, 'under-way.json');
    await openUnderWay(folder, { pid: 1, bootId: null }).write(state, at);
    const whole = readFileSync(path, 'utf8');
    for (let length = 0; length < whole.length - 1; length += 1) {
      truncateSync(path, length);
      expect(await readUnderWay(folder), `${length} bytes`).toBeNull();
      writeFileSync(path, whole);
    }
    expect(existsSync(path)).toBe(true);
    expect(await readUnderWay(folder)).not.toBeNull();
  });
});
