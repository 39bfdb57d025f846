// Which project of vitest.config.ts a file of tests belongs to; all that is not named here is pure: `unit`.

/** Those that take the lock of sittings, or run the command that does: side by side only where each has a lock of its own. */
export const sittings: readonly string[] = [
  'test/e2e/**/*.test.ts',
  'test/faults/**/*.test.ts',
  'test/unit/api/continue-at-boot.test.ts',
  'test/unit/api/continue-sitting.test.ts',
  'test/unit/api/enter-figures.test.ts',
];

/**
 * Alone on the machine: those that use the meter itself, or hold what was measured beside a clock or another rig. The package is
 * installed from the registry, so it has the network of the others.
 */
export const alone: readonly string[] = [
  'test/unit/runner/meter/**/*.test.ts',
  'test/unit/runner/inhibit-sleep.test.ts',
  'test/unit/runner/page-cache.test.ts',
  'test/unit/runner/run-scripted.test.ts',
  'test/e2e/heat.test.ts',
  'test/e2e/package.test.ts',
  'test/e2e/real-campaign.test.ts',
  'test/e2e/stopwatch.test.ts',
];

/** Those that open Chromium. */
export const browser: readonly string[] = ['test/browser/**/*.test.ts'];
