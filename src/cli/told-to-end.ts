/** What a shell calls the status of a program that was interrupted: 128 and the signal's number. */
const INTERRUPTED = 130;

/** Waits until the program is interrupted (Ctrl+C) or told to terminate; a second time ends it at once. */
export function toldToEnd(): Promise<void> {
  return new Promise((resolve) => {
    let isTold = false;
    for (const signal of ["SIGINT", "SIGTERM"] as const)
      process.on(signal, () => {
        // By an exit of our own, and not by the signal: workers are to end with the program.
        if (isTold) process.exit(INTERRUPTED);
        isTold = true;
        resolve();
      });
  });
}
