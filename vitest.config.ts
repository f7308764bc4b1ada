import { defineConfig } from 'vitest/config';

/** Everything that runs without a browser; the page's own tests are in `e2e` and run in a real one. */
export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['e2e/**', 'node_modules/**', 'dist/**'],
    environment: 'node',
    // More would only compete: each loads its own kernel, and some start the command line.
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
