import { defineConfig } from 'vitest/config';

const PURE = 'test/{core,renderer}/**/*.test.{ts,tsx}';

/** Generous, because a loaded machine is slow and a wrong result still fails at once. */
const PATIENT = { testTimeout: 120_000, hookTimeout: 60_000 };

export default defineConfig({
  test: {
    globalSetup: ['test/buildOnce.ts'],
    reporters: ['default', './test/closingLine.ts'],
    // Two cores: process and browser tests are heavy, and a starved meter looks like a silent one.
    maxWorkers: 2,
    projects: [
      {
        test: {
          name: 'pure',
          include: [PURE],
          // They touch nothing beside what they import, so that is loaded once and not for each file: half the time.
          isolate: false,
          ...PATIENT,
        },
      },
      {
        test: {
          name: 'real',
          include: ['test/**/*.test.{ts,tsx}'],
          exclude: [PURE],
          ...PATIENT,
          // What a busy machine shows late is not missing.
          expect: { poll: { timeout: 20_000 } },
        },
      },
    ],
  },
});
