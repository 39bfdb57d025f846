import { createWriteStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { openSensors } from '../../../dist/api/sensors.js';
import { startProgress } from '../../../dist/cli/progress.js';
import { readSensors } from '../../../dist/rig/sensors/read-sensors.js';
import { systemClock } from '../../../dist/runner/clock.js';
import { startTelemetry } from '../../../dist/runner/telemetry/start-telemetry.js';

const run = { index: 0, phase: 'repeat', round: 1, repeat: 1, workload: 'computing' };

const { set, files } = await openSensors('/');

/** The live display of a sitting, as on a terminal, and telemetry once a second. Resolves to what ends both. */
export async function startWatching() {
  const stream = Object.assign(createWriteStream('/dev/null'), {
    isTTY: true,
    columns: 80,
    rows: 24,
  });
  const progress = startProgress(stream);
  progress.show({
    type: 'sitting-started',
    folder: '/results/example',
    runs: 30,
    estimateSeconds: 150,
  });
  progress.show({ type: 'run-started', run, pid: 1 });
  const lines = await open('/dev/null', 'a');
  const telemetry = startTelemetry({
    table: set.table,
    read: (moment) => readSensors(set, files, moment),
    append: (line) => lines.appendFile(`${JSON.stringify(line)}\n`),
    clock: systemClock,
    startSeconds: systemClock.monotonicSeconds(),
    cpuSeconds: () => {
      const { user, system } = process.cpuUsage();
      return (user + system) / 1e6;
    },
  });
  return async () => {
    const cost = await telemetry.stop();
    await lines.close();
    progress.end();
    stream.end();
    return cost;
  };
}
