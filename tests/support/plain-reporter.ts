/**
 * The last line of a run, for people and scripts alike: `N passed, N failed`, and
 * `, N skipped` when there are any. Tests are counted one by one; a file or a group that
 * could not be loaded or set up, and an error outside all tests, each count as one failure.
 */
import type { Reporter, TestModule } from "vitest/node";

interface Counts {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

/** A check that could not run, with the reason that it gave. */
type Skipped = readonly [name: string, reason: string];

export class PlainReporter implements Reporter {
  private counts: Counts | undefined;
  private skipped: readonly Skipped[] = [];

  onInit(): void {
    // At the very end of the process: other reporters still print after the run's end.
    process.once("exit", () => {
      if (this.counts === undefined) return;
      for (const [name, reason] of this.skipped) process.stdout.write(`Skipped "${name}": ${reason}\n`);
      if (this.counts.skipped > 0 && process.env["CI"] === "true") {
        process.exitCode = 1;
        process.stdout.write("Under CI=true every check must run: a skipped test fails the run.\n");
      }
      process.stdout.write(`${plainLine(this.counts)}\n`);
    });
  }

  onTestRunEnd(testModules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    this.counts = countTests(testModules, unhandledErrors.length);
    this.skipped = skippedTests(testModules);
    if (this.counts.failed > 0) process.exitCode = 1;
  }
}

function plainLine({ passed, failed, skipped }: Counts): string {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`;
}

function countTests(modules: readonly TestModule[], errorsOutside: number): Counts {
  const tests = modules.flatMap((module) => [...module.children.allTests()]);
  const groups = modules.flatMap((module) => [module, ...module.children.allSuites()]);
  const count = (...states: readonly string[]) =>
    tests.filter((test) => states.includes(test.result().state)).length;
  return {
    passed: count("passed"),
    // "pending": the run was broken off before the test came to an end.
    failed:
      count("failed", "pending") + groups.filter((group) => group.errors().length > 0).length + errorsOutside,
    skipped: count("skipped"),
  };
}

function skippedTests(modules: readonly TestModule[]): readonly Skipped[] {
  return modules
    .flatMap((module) => [...module.children.allTests("skipped")])
    .map((test) => {
      const result = test.result();
      return [test.fullName, (result.state === "skipped" && result.note) || "no reason given"];
    });
}
