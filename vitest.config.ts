import { configDefaults, defineConfig } from 'vitest/config';

/** Files that look at what a process has loaded, or load it in another way: each needs one of its own. */
const ALONE = [
  'test/cli/start-up.test.ts',
  'test/codes/**/*.test.ts',
  'test/kernel/**/*.test.ts',
  'test/lexicon/**/*.test.ts',
];

/** Everything that runs without a browser; the page's own tests are in `e2e` and run in a real one. */
export default defineConfig({
  test: {
    environment: 'node',
    // More would only compete: each loads its own kernel, and some start the command line.
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'together',
          include: ['test/**/*.test.ts'],
          exclude: [...configDefaults.exclude, ...ALONE],
          isolate: false,
        },
      },
      { extends: true, test: { name: 'alone', include: ALONE } },
    ],
  },
});
