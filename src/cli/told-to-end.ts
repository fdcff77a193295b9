/** Waits until the program is interrupted (Ctrl+C) or told to terminate; a second time ends it at once. */
export function toldToEnd(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => resolve());
  });
}
