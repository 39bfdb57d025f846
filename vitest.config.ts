import { availableParallelism } from 'node:os';
import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config';
import { canHaveOwnNetwork } from './test/setup/own-network.ts';

/** Take the lock of sittings, or end-to-end: side by side only where each file has a lock of its own. */
const sittings = [
  'test/e2e/**/*.test.ts',
  'test/faults/**/*.test.ts',
  'test/unit/api/continue-at-boot.test.ts',
  'test/unit/api/continue-sitting.test.ts',
  'test/unit/api/enter-figures.test.ts',
];

/** Compare what was measured with a clock, another meter or the page cache: they want the machine to themselves. */
const measuring = [
  'test/unit/runner/meter/**/*.test.ts',
  'test/unit/runner/page-cache.test.ts',
  'test/unit/runner/run-scripted.test.ts',
  'test/e2e/real-campaign.test.ts',
  'test/e2e/scripted.test.ts',
];

const browser = ['test/browser/**/*.test.ts'];

const ownNetwork = canHaveOwnNetwork();

/** Groups run one after another, `order` of the first to the last. */
function project(
  name: string,
  order: number,
  test: TestProjectInlineConfiguration['test'],
): TestProjectInlineConfiguration {
  return {
    test: {
      name,
      pool: 'forks',
      maxWorkers: availableParallelism(),
      testTimeout: 60_000,
      hookTimeout: 60_000,
      sequence: { groupOrder: order },
      ...test,
    },
  };
}

// Workload programs and the meter's worker run as compiled files, so one build precedes all tests.
export default defineConfig({
  test: {
    globalSetup: ['test/setup/build.ts'],
    coverage: { provider: 'v8', include: ['src/**/*.ts'] },
    projects: [
      project('unit', 0, {
        include: ['test/**/*.test.ts'],
        // One process for many files: each module is loaded once, not two hundred times.
        isolate: false,
        exclude: [...sittings, ...measuring, ...browser],
      }),
      project('sittings', 1, {
        include: sittings,
        exclude: measuring,
        fileParallelism: ownNetwork,
        // A sitting waits most of the time: a second before it begins and one between rounds.
        maxWorkers: ownNetwork ? 2 * availableParallelism() : 1,
        env: { STEADYRIG_TEST_NETWORK: ownNetwork ? 'own' : 'shared' },
        setupFiles: ['test/setup/enter-own-network.ts'],
      }),
      project('measuring', 2, { include: measuring, fileParallelism: false }),
      project('browser', 3, { include: browser, fileParallelism: false }),
    ],
  },
});
