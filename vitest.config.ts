import { defineConfig } from "vitest/config";
import { CountReporter } from "./tests/support/count-reporter.js";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    pool: "forks",
    reporters: ["default", new CountReporter()],
  },
});
