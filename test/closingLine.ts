import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with one plain line: `N passed, N failed, N skipped`. A test file that can't be loaded counts as failed. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const count = { passed: 0, failed: errors.length, skipped: 0 };
    for (const module of modules) {
      count.failed += module.errors().length;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state !== 'pending') count[state] += 1;
      }
    }
    // After everything the other reporters have to say.
    process.once('exit', () => console.log(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`));
  }
}
