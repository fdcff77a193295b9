import type { RequestHandler } from "express";

/** A score that waits for the page that is opened with it. */
export interface WaitingScore {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Part of its address; nobody else knows it. */
  readonly word: string;
}

/** Hands out the score by the address that only its page was told. */
export const waitingScore =
  ({ bytes }: WaitingScore): RequestHandler =>
  (_request, response) =>
    void response.type("application/octet-stream").send(Buffer.from(bytes));
