#!/usr/bin/env node
import { computer } from "./outside.js";
import { run } from "./run.js";

// A reader that has seen enough (`| head`) is no trouble of ours.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

process.exitCode = await run(process.argv.slice(2), computer);
