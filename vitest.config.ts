import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.{ts,tsx}'],
    globalSetup: ['test/buildOnce.ts'],
    reporters: ['default', './test/closingLine.ts'],
    // Generous, because a loaded machine is slow and a wrong result still fails at once.
    testTimeout: 120_000,
    hookTimeout: 60_000,
    // What a busy machine shows late is not missing.
    expect: { poll: { timeout: 20_000 } },
    // Two cores: process and browser tests are heavy, and a starved meter looks like a silent one.
    maxWorkers: 2,
  },
});
