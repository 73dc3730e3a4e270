import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.{ts,tsx}'],
    reporters: ['default', './test/closingLine.ts'],
    testTimeout: 30_000,
    // Two cores: process and browser tests are heavy, and a starved meter looks like a silent one.
    maxWorkers: 2,
  },
});
