#!/usr/bin/env node
import { EXIT_CODES } from "./exit-codes.js";
import { computer, FileTrouble } from "./outside.js";
import { run } from "./run.js";

process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  // A reader that has seen enough (`| head`) is no trouble of ours.
  if (error.code === "EPIPE") return;
  computer.toStandardError(
    `undervoice: error: ${new FileTrouble("standard output", "written", error).message}\n`,
  );
  process.exit(EXIT_CODES.fileTrouble.code);
});

process.exitCode = await run(process.argv.slice(2), computer);
