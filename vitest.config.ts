import { defineConfig } from "vitest/config";
import { PlainReporter } from "./tests/support/plain-reporter.ts";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    // Outside programs (a browser, a knot library) start slowly on a small machine.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    reporters: ["default", new PlainReporter()],
  },
});
