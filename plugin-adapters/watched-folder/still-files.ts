/** What is known of one file after a look at its folder. */
interface Seen {
  readonly signature: string;
  /** When it was first seen in this state, in milliseconds. */
  readonly since: number;
}

/**
 * Tells files that are being written from files that are done: a file is still once it looked the same for
 * a while. That holds for files that were there before the first look too.
 */
export class StillFiles {
  readonly #stillMs: number;
  #seen: ReadonlyMap<string, Seen> = new Map();

  /** @param stillMs how long a file looks the same before it counts as done */
  constructor(stillMs: number) {
    this.#stillMs = stillMs;
  }

  /** Takes in a look, `now` in milliseconds, and answers with the signatures of the files that are still. */
  after(signatures: ReadonlyMap<string, string>, now: number): ReadonlyMap<string, string> {
    const before = this.#seen;
    this.#seen = new Map(
      [...signatures].map(([name, signature]) => {
        const known = before.get(name);
        return [name, known?.signature === signature ? known : { signature, since: now }];
      }),
    );
    return new Map(
      [...this.#seen]
        .filter(([, { since }]) => now - since >= this.#stillMs)
        .map(([name, { signature }]) => [name, signature]),
    );
  }
}
