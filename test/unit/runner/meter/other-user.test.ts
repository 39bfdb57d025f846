import { chmodSync, chownSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ProgramUser } from '../../../../src/model/meter.ts';
import { unreadableFor } from '../../../../src/runner/meter/unreadable-for.ts';
import { needs } from '../../../setup/needs.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { meterNames, openTestMeter, type TestMeter } from './harness.ts';

const isRoot = process.getuid?.() === 0;
const setpriv = needs.program('setpriv');
/** Numbers that need no account. */
const user: ProgramUser = { uid: 54_321, gid: 54_322, groups: [54_322, 54_323] };
const script = `
id -u; id -g; id -G
grep -E '^(Uid|Gid|CapEff|CapPrm):' /proc/self/status
cat secret 2>/dev/null || echo kept out
`;

describe.skipIf(!isRoot || process.platform !== 'linux')('a program of another user', () => {
  describe.each(meterNames)('started by the %s meter', (name) => {
    let test: TestMeter;
    beforeAll(async () => {
      test = await openTestMeter(name);
      chmodSync(test.folder, 0o711);
      writeFileSync(join(test.folder, 'secret'), 'for root alone\n', { mode: 0o600 });
    });
    afterAll(() => test.close());

    it.skipIf(name === 'portable' && setpriv.missing)(
      'has the ids, groups and rights of that user and no way back; the agent keeps its own',
      async () => {
        for (const shown of [script, `: ${script}`]) {
          await test.run(['/bin/sh', '-c', shown], { user });
          expect(test.stdout().replaceAll('\t', ' ')).toBe(
            [
              ...['54321', '54322', '54322 54323'],
              'Uid: 54321 54321 54321 54321',
              'Gid: 54322 54322 54322 54322',
              ...['CapPrm: 0000000000000000', 'CapEff: 0000000000000000'],
              ...['kept out', ''],
            ].join('\n'),
          );
        }
        expect([process.geteuid?.(), process.getegid?.()]).toEqual([0, 0]);
        await test.run(['/bin/sh', '-c', script]);
        expect(test.stdout()).toMatch(/^0\n0\n.*\nfor root alone\n$/s);
      },
    );

    it.skipIf(name === 'portable' && setpriv.missing)(
      'is so as a script too, and is ended at its limit',
      async () => {
        const file = join(test.folder, 'script');
        writeFileSync(file, '#!/bin/sh\nid -u\nexec sleep 1000\n', { mode: 0o755 });
        const { stopped } = await test.run([file], { user, timeLimitSeconds: 0.5 });
        expect(stopped).toEqual({ cause: 'time-limit', forced: false });
        expect(test.stdout()).toBe('54321\n');
      },
    );
  });

  describe('in the accounts of the kernel meter', () => {
    let test: TestMeter;
    beforeAll(async () => {
      test = await openTestMeter('kernel');
      chmodSync(test.folder, 0o711);
    });
    afterAll(() => test.close());

    it('takes as much memory as one of the agent’s own', async () => {
      const peaks = { own: Number.POSITIVE_INFINITY, other: Number.POSITIVE_INFINITY };
      for (let run = 0; run < 9; run += 1) {
        for (const [whose, as] of [
          ['own', null],
          ['other', user],
        ] as const) {
          const { peakMemory } = (await test.run(['true'], { user: as })).accounting;
          if (peakMemory?.kind === 'exact') peaks[whose] = Math.min(peaks[whose], peakMemory.bytes);
        }
      }
      expect(peaks.other).toBeLessThan(3e6);
      expect(Math.abs(peaks.other - peaks.own)).toBeLessThanOrEqual(256 * 1024);
    });

    it('takes as much CPU time as one of the agent’s own', async () => {
      const argv = [
        '/bin/sh',
        '-c',
        'i=0; while [ $i -lt 300000 ]; do i=$((i + 1)); done',
      ] as const;
      const cpuSeconds = async (as: ProgramUser | null): Promise<number> => {
        const { userSeconds, systemSeconds } = (await test.run([...argv], { user: as })).accounting;
        return (userSeconds ?? 0) + (systemSeconds ?? 0);
      };
      let [own, other] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
      const isNear = (): boolean => Math.abs(own - other) <= Math.max(0.02 * own, 0.01);
      // Other work only ever adds CPU time.
      for (let pair = 0; pair < 3 || (pair < 40 && !isNear()); pair += 1) {
        own = Math.min(own, await cpuSeconds(null));
        other = Math.min(other, await cpuSeconds(user));
      }
      expect(isNear()).toBe(true);
    });
  });

  it('is told from what it cannot read', () => {
    const folder = temporaryFolder();
    chmodSync(folder, 0o711);
    const [open, closed, owned] = ['open', 'closed', 'owned'].map((name) => join(folder, name));
    writeFileSync(open!, '', { mode: 0o644 });
    writeFileSync(closed!, '', { mode: 0o600 });
    writeFileSync(owned!, '', { mode: 0o040 });
    chmodSync(owned!, 0o040);
    chownSync(owned!, 0, 54_323);
    expect(unreadableFor(user, [open!, closed!, owned!, folder])).toEqual([closed, folder]);
    expect(process.geteuid?.()).toBe(0);
  });
});
