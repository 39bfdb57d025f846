import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { openSuite } from '../../src/api/open-suite.ts';
import { runSitting } from '../../src/api/run-sitting.ts';
import { StopControl } from '../../src/runner/stop-control.ts';
import { rigRoot } from '../unit/rig/rigs.ts';
import { writeSuite } from './command-suite.ts';
import { temporaryFolder } from './temporary-folder.ts';
import { unwrap } from './unwrap.ts';

/** A sitting of three runs on an invented rig, ended after the first; the rig's files can be changed. */
export async function interruptedSitting(): Promise<{
  folder: string;
  root: string;
  bootId: string | null;
}> {
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
