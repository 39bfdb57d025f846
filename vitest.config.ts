import { availableParallelism } from 'node:os';
import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config';
import { canHaveOwnNetwork } from './test/setup/own-network.ts';
import { alone, browser, sittings } from './test/setup/projects.ts';

const cpus = availableParallelism();
const ownNetwork = canHaveOwnNetwork();

/** Projects run one after another, by their order. */
function project(
  order: number,
  name: string,
  test: TestProjectInlineConfiguration['test'],
): TestProjectInlineConfiguration {
  const sequence = { groupOrder: order };
  const patience = { testTimeout: 60_000, hookTimeout: 60_000 };
  return { test: { name, pool: 'forks', sequence, ...patience, ...test } };
}

// Workload programs and the meter's worker run as compiled files, so one build precedes all tests.
export default defineConfig({
  test: {
    globalSetup: ['test/setup/build.ts'],
    coverage: { provider: 'v8', include: ['src/**/*.ts'] },
    projects: [
      project(0, 'unit', {
        include: ['test/**/*.test.ts'],
        exclude: [...sittings, ...alone, ...browser],
        // One process for many files: each module is loaded once, not two hundred times.
        isolate: false,
        maxWorkers: cpus,
      }),
      project(1, 'sittings', {
        include: [...sittings],
        exclude: [...alone],
        setupFiles: ['test/setup/enter-own-network.ts'],
        env: { STEADYRIG_TEST_NETWORK: ownNetwork ? 'own' : 'shared' },
        // A sitting waits most of the time: a second before it begins and one between rounds.
        maxWorkers: ownNetwork ? 2 * cpus : 1,
      }),
      project(2, 'alone', { include: [...alone], maxWorkers: 1 }),
      project(3, 'browser', { include: [...browser], maxWorkers: 1 }),
    ],
  },
});
