import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type ContinueOptions, continueSitting } from '../../../src/api/continue-sitting.ts';
import { readSitting } from '../../../src/results/read-sitting.ts';
import { openUnderWay } from '../../../src/results/under-way.ts';
import { verifySeal } from '../../../src/results/verify.ts';
import { StopControl } from '../../../src/runner/stop-control.ts';
import { interruptedSitting } from '../../setup/interrupted-sitting.ts';
import { unwrap } from '../../setup/unwrap.ts';

const otherBoot = '0d9f4a52-7c1e-4b53-9a64-2f0f3a1b8c77';

const goOn = (folder: string, root: string, options: ContinueOptions = {}) =>
  continueSitting(folder, { root, telemetry: false, ...options });

describe('continueSitting', () => {
  it('goes on in another boot, which sitting and runs tell, and says the machine went down', async () => {
    const { folder, root, bootId } = await interruptedSitting();
    const marker = openUnderWay(folder, { pid: 1, bootId });
    const since = '2026-01-31T20:15:00.000Z';
    await marker.write(
      { phase: 'run', run: { plan: 1, attempt: 1, since }, secondsLeft: null },
      new Date(since),
    );
    writeFileSync(join(root, 'proc/sys/kernel/random/boot_id'), `${otherBoot}\n`);
    const { sitting, runs, state } = unwrap(await goOn(folder, root));
    expect(state).toBe('complete');
    expect(sitting.bootIds).toEqual([bootId, otherBoot]);
    expect(sitting.continuations).toMatchObject([{ bootId: otherBoot, lost: 1, changes: [] }]);
    expect(sitting.interruptions).toMatchObject([{ cause: 'SIGINT', runs: 1 }]);
    expect(runs.map(({ plan, attempt }) => [plan, attempt])).toEqual([
      [0, 1],
      [1, 1],
      [1, 2],
      [2, 1],
    ]);
    expect(runs.map((run) => run.bootId)).toEqual([bootId, bootId, otherBoot, otherBoot]);
    expect(runs[1]?.failure).toEqual({
      code: 'lost',
      message: 'the machine went down or was restarted while it was under way',
    });
    expect((await verifySeal(folder)).findings).toEqual([]);
  });

  it('leaves a marker alone that does not fit the journal', async () => {
    const { folder, root, bootId } = await interruptedSitting();
    const at = new Date('2026-01-31T20:15:00.000Z');
    await openUnderWay(folder, { pid: 1, bootId }).write(
      // Recorded just before the agent died.
      {
        phase: 'run',
        run: { plan: 0, attempt: 1, since: at.toISOString() },
        secondsLeft: null,
      },
      at,
    );
    const { runs, sitting } = unwrap(await goOn(folder, root));
    expect(runs.map(({ plan }) => plan)).toEqual([0, 1, 2]);
    expect(sitting.continuations[0]?.lost).toBeNull();
  });

  it('refuses another kernel or part, lists it, and changes nothing; accepted, it is recorded and known', async () => {
    const { folder, root } = await interruptedSitting();
    const before = unwrap(await readSitting(folder));
    writeFileSync(join(root, 'proc/sys/kernel/osrelease'), '9.9.9-invented\n');
    const refused = await goOn(folder, root);
    expect(refused).toMatchObject({
      ok: false,
      error: { kind: 'changed', changes: [{ path: 'os.kernel', to: '9.9.9-invented' }] },
    });
    expect(unwrap(await readSitting(folder))).toEqual(before);
    const stop = new StopControl();
    const onEvent: ContinueOptions['onEvent'] = ({ type }) =>
      void (type === 'run-finished' && stop.request('SIGTERM'));
    const accepted = unwrap(await goOn(folder, root, { acceptChanges: true, stop, onEvent }));
    expect(accepted.sitting.continuations[0]?.changes).toMatchObject([{ path: 'os.kernel' }]);
    expect(accepted.state).toBe('interrupted');
    const { sitting, runs } = unwrap(await goOn(folder, root));
    expect(sitting.continuations.map(({ changes }) => changes.length)).toEqual([1, 0]);
    expect(sitting.interruptions.map(({ cause }) => cause)).toEqual(['SIGINT', 'SIGTERM']);
    expect(runs).toHaveLength(3);
  });
});
