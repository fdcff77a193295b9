import type { Reporter, TestModule } from "vitest/node";

/** Ends a run with one plain line of counts: "120 passed, 0 failed". */
export class CountReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const tests = modules.flatMap((module) => [...module.children.allTests()]);
    const inState = (state: string) => tests.filter((test) => test.result().state === state).length;
    // A file that cannot be loaded has no tests, and an error outside of a test belongs to none.
    const brokenFiles = modules.filter((module) => module.errors().length > 0).length;
    const failed = inState("failed") + brokenFiles + errors.length;
    const skipped = inState("skipped");
    console.log(
      `${inState("passed")} passed, ${failed} failed${skipped === 0 ? "" : `, ${skipped} skipped`}`,
    );
  }
}
