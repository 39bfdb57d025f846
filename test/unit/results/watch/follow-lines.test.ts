import { appendFileSync, openSync, truncateSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { followLines, type LineFollower } from '../../../../src/results/watch/follow-lines.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';

async function linesOf(follower: LineFollower): Promise<readonly string[]> {
  const lines: string[] = [];
  await follower.read(
    (line) => lines.push(line.toString()),
    () => lines.push('(anew)'),
  );
  return lines;
}

const newFile = (): string => join(temporaryFolder(), 'lines.jsonl');

describe('following a file of lines', () => {
  it('hands on each line once, and only when it is whole', async () => {
    const path = newFile();
    const follower = followLines(path);
    expect(await linesOf(follower)).toEqual([]);
    writeFileSync(path, 'one\ntwo\nthr');
    expect(await linesOf(follower)).toEqual(['one', 'two']);
    appendFileSync(path, 'ee');
    expect(await linesOf(follower)).toEqual([]);
    appendFileSync(path, '\n\nfive\n');
    expect(await linesOf(follower)).toEqual(['three', '', 'five']);
    expect(await linesOf(follower)).toEqual([]);
  });

  it('does not read again what it has read', async () => {
    const path = newFile();
    writeFileSync(path, 'one\ntwo\n');
    const follower = followLines(path);
    await linesOf(follower);
    writeSync(openSync(path, 'r+'), 'XXX\nYYY\n', 0);
    appendFileSync(path, 'three\n');
    expect(await linesOf(follower)).toEqual(['three']);
  });

  it('goes on where a last line that was being written is cut off', async () => {
    const path = newFile();
    writeFileSync(path, 'one\ntwo torn');
    const follower = followLines(path);
    expect(await linesOf(follower)).toEqual(['one']);
    truncateSync(path, 4);
    appendFileSync(path, 'two\n');
    expect(await linesOf(follower)).toEqual(['two']);
  });

  it('begins anew with a file that is shorter than what was read', async () => {
    const path = newFile();
    writeFileSync(path, 'one\ntwo\n');
    const follower = followLines(path);
    await linesOf(follower);
    writeFileSync(path, 'uno\n');
    expect(await linesOf(follower)).toEqual(['(anew)', 'uno']);
  });

  it('reads lines longer than its pieces whole, whatever characters lie across their edges', async () => {
    const path = newFile();
    const long = `${'é'.repeat(700_001)}!`;
    writeFileSync(path, `a\n${long}\nb\n${long}`);
    const follower = followLines(path);
    expect(await linesOf(follower)).toEqual(['a', long, 'b']);
    appendFileSync(path, '\n');
    expect(await linesOf(follower)).toEqual([long]);
  });

  it('passes over a line that would fill memory, and goes on after it', async () => {
    const path = newFile();
    writeFileSync(path, 'a\n');
    truncateSync(path, 20 * 2 ** 20);
    appendFileSync(path, '\nb\n');
    const lines = await linesOf(followLines(path));
    expect([lines.at(0), lines.at(-1)]).toEqual(['a', 'b']);
    expect(lines.map(({ length }) => length).filter((length) => length > 8 * 2 ** 20)).toEqual([]);
  });

  it('passes over the rest of the line that it begins in', async () => {
    const path = newFile();
    writeFileSync(path, 'one\ntwo\nthree\n');
    expect(await linesOf(followLines(path, 5))).toEqual(['three']);
    // The byte before a line is the line feed of the one before.
    expect(await linesOf(followLines(path, 3))).toEqual(['two', 'three']);
    expect(await linesOf(followLines(path, 14))).toEqual([]);
  });
});
