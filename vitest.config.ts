import { defineConfig } from 'vitest/config';

// Workload programs and the meter's worker run as compiled files, so one build precedes the tests.
export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    globalSetup: ['test/setup/build.ts'],
    // Sittings hold the machine-wide lock, and the meter's checks want the machine to themselves.
    fileParallelism: false,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    coverage: { provider: 'v8', include: ['src/**/*.ts'] },
  },
});
