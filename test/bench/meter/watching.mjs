import { createWriteStream, readFileSync } from 'node:fs';
import { startProgress } from '../../../dist/cli/progress.js';

const run = { index: 0, phase: 'repeat', round: 1, repeat: 1, workload: 'computing' };

/** The live display of a sitting, as on a terminal, and a reading of a few kernel files once a second. */
export function startWatching() {
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
  const sampler = setInterval(() => {
    for (const file of ['/proc/stat', '/proc/loadavg', '/proc/meminfo']) readFileSync(file);
  }, 1000);
  return () => {
    clearInterval(sampler);
    progress.end();
    stream.end();
  };
}
