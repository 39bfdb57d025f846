import { cpSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type ContinueOptions, continueSitting } from '../../../src/api/continue-sitting.ts';
import { openSuite } from '../../../src/api/open-suite.ts';
import { runSitting } from '../../../src/api/run-sitting.ts';
import { readSitting } from '../../../src/results/read-sitting.ts';
import { openUnderWay } from '../../../src/results/under-way.ts';
import { verifySeal } from '../../../src/results/verify.ts';
import { StopControl } from '../../../src/runner/stop-control.ts';
import { writeSuite } from '../../setup/command-suite.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { rigRoot } from '../rig/rigs.ts';

const otherBoot = '0d9f4a52-7c1e-4b53-9a64-2f0f3a1b8c77';

/** A sitting of three runs on an invented rig, ended after the first; the rig's files can be changed. */
async function interrupted(): Promise<{ folder: string; root: string; bootId: string | null }> {
  const cwd = temporaryFolder();
  const root = join(cwd, 'rig');
  cpSync(rigRoot('desktop-k10temp'), root, { recursive: true, dereference: false });
  const suite = unwrap(await openSuite(writeSuite(cwd, { one: 'exit 0' })));
  const stop = new StopControl();
  const outcome = unwrap(
    await runSitting(suite, {
      ...{ rig: 'bench-a', results: join(cwd, 'results'), cache: join(cwd, 'cache'), root, stop },
      telemetry: false,
      onEvent: ({ type }) => void (type === 'run-finished' && stop.request('SIGINT')),
    }),
  );
  expect(outcome.state).toBe('interrupted');
  return { folder: outcome.folder, root, bootId: outcome.sitting.bootIds[0] ?? null };
}

const goOn = (folder: string, root: string, options: ContinueOptions = {}) =>
  continueSitting(folder, { root, telemetry: false, ...options });

describe('continueSitting', () => {
  it('goes on in another boot, which sitting and runs tell, and says the machine went down', async () => {
    const { folder, root, bootId } = await interrupted();
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
    const { folder, root, bootId } = await interrupted();
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
    const { folder, root } = await interrupted();
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
