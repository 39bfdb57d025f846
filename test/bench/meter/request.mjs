import { join } from 'node:path';
import { measuredEnvironment } from '../../../dist/runner/meter/measured-environment.js';

/** A request for a program that is left to itself. */
export function plainRequest(argv, folder, more = {}) {
  return {
    argv,
    environment: measuredEnvironment({ path: '/usr/bin:/bin', scratch: folder, extra: {} }),
    workingFolder: folder,
    stdoutPath: join(folder, 'stdout'),
    stderrPath: join(folder, 'stderr'),
    affinity: null,
    priority: null,
    timeLimitSeconds: 600,
    outputLimitBytes: 64 * 2 ** 20,
    graceSeconds: 2,
    abort: new AbortController().signal,
    ...more,
  };
}

/** Accounting of a run that must have gone well. */
export async function account(meter, request) {
  const outcome = await meter.measure(request);
  if (outcome.kind !== 'ended' || outcome.exit.code !== 0) throw new Error(JSON.stringify(outcome));
  return outcome.accounting;
}
