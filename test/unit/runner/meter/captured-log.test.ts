import { createHash } from 'node:crypto';
import { appendFileSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { CapturedLog } from '../../../../src/runner/meter/captured-log.ts';

const folder = mkdtempSync(join(tmpdir(), 'steadyrig-log-'));
const path = join(folder, 'log');
afterAll(() => rmSync(folder, { recursive: true }));

describe('a captured log', () => {
  it('tells how much was written and what of it is left, for any lengths', async () => {
    const length = fc.nat(300);
    await fc.assert(
      fc.asyncProperty(length, length, length, async (headBytes, tailBytes, total) => {
        const log = new CapturedLog(path, { headBytes, tailBytes });
        const written = Buffer.from(Array.from({ length: total }, (_, i) => 97 + (i % 26)));
        appendFileSync(path, written);
        const finished = await log.finish();
        log.close();
        const file = readFileSync(path);
        expect(finished.bytes).toBe(total);
        expect(finished.keptBytes).toBe(file.length);
        expect(finished.sha256).toBe(createHash('sha256').update(written).digest('hex'));
        if (total <= headBytes + tailBytes) {
          expect(file).toEqual(written);
          return;
        }
        const missing = total - headBytes - tailBytes;
        const marker = Buffer.from(`\n[steadyrig: ${missing} bytes left out here]\n`);
        const tail = tailBytes === 0 ? Buffer.alloc(0) : written.subarray(-tailBytes);
        expect(file).toEqual(Buffer.concat([written.subarray(0, headBytes), marker, tail]));
      }),
    );
  });

  it('counts what was cut while it grew, and gives no checksum of a part', async () => {
    const log = new CapturedLog(path, { headBytes: 4, tailBytes: 3 });
    appendFileSync(path, 'abcdefghij');
    log.cut();
    expect(statSync(path).size).toBe(4);
    expect(log.bytes).toBe(10);
    appendFileSync(path, 'xyz');
    log.cut();
    expect(log.bytes).toBe(13);
    const finished = await log.finish();
    log.close();
    const kept = 'abcd\n[steadyrig: 6 bytes left out here]\nxyz';
    expect(readFileSync(path, 'utf8')).toBe(kept);
    expect(finished).toEqual({ bytes: 13, keptBytes: kept.length, sha256: null });
  });
});
