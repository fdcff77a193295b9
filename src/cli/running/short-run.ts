import { setFlagsFromString } from "node:v8";

/** V8 of this line was tried: other versions may not know the flag, and would say so to the person. */
const TRIED = /^11\./;

/**
 * For a command that is done in a second: V8 is to take its time before it optimizes. By the time it had, most of
 * what it would optimize has run for the last time; one score costs two thirds of the processor's time so, and no
 * more of the time until it is there. What goes on, such as a service or a watch, is left as it is.
 */
export function expectShortRun(): void {
  if (TRIED.test(process.versions.v8)) setFlagsFromString("--interrupt-budget=400000");
}
