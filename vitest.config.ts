import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";
import { CountReporter } from "./tests/support/count-reporter.js";

export default defineConfig({
  // The service imports the library by its name; here that is the source, not the build.
  resolve: { alias: { undervoice: fileURLToPath(new URL("src/index.ts", import.meta.url)) } },
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    pool: "forks",
    reporters: ["default", new CountReporter()],
  },
});
