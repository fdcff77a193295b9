import type { Request, Response } from "express";
import type { ServiceLimits } from "../limits.js";
import { type Refusal, refusal } from "../refusal.js";

/** Reads the body of a request into memory, as far as the limits go. */
export type BodyReader = (request: Request, response: Response) => Promise<Uint8Array>;

/**
 * A reader that counts the bytes themselves: a Content-Length may be absent or false. Nothing is read on
 * once a limit is passed, and all clients together are held to one limit too.
 */
export function bodyReader(limits: ServiceLimits): BodyReader {
  let heldBytes = 0;
  return async (request, response) => {
    const chunks: Buffer[] = [];
    let size = 0;
    response.once("close", () => {
      heldBytes -= size;
    });
    refuseAnnounced(request, limits);
    // Without this the request, and with it the connection, is torn down before it is answered.
    for await (const chunk of request.iterator({ destroyOnReturn: false }) as AsyncIterable<Buffer>) {
      size += chunk.length;
      heldBytes += chunk.length;
      chunks.push(chunk);
      const limit = startsLikeZip(chunks) ? limits.zippedBytes : limits.plainBytes;
      if (size > limit) throw tooLarge(limit);
      if (heldBytes > limits.heldBytes) throw fullHands(limits);
    }
    return Buffer.concat(chunks, size);
  };
}

function refuseAnnounced(request: Request, limits: ServiceLimits): void {
  const coding = request.get("Content-Encoding") ?? "identity";
  if (coding.toLowerCase() !== "identity") throw codedBody(coding);
  if (Number(request.get("Content-Length") ?? 0) > limits.plainBytes) throw tooLarge(limits.plainBytes);
}

function startsLikeZip([first, second]: readonly Buffer[]): boolean {
  const [one, two = second?.[0]] = first ?? [];
  return one === 0x50 && two === 0x4b;
}

const tooLarge = (limit: number): Refusal =>
  refusal(413, {
    rule: "too-large",
    found: `more than ${limit} bytes`,
    expected: `at most ${limit} bytes`,
    message: `The body has more than ${limit} bytes, the most that is read.`,
  });

const fullHands = ({ retryAfterSeconds }: ServiceLimits): Refusal =>
  refusal(
    503,
    {
      rule: "service-busy",
      found: "more scores at once than the service has room for",
      expected: "fewer at once",
      message: "The service holds as much as it can.",
      hint: `Try again in ${retryAfterSeconds} seconds.`,
    },
    { "Retry-After": String(retryAfterSeconds) },
  );

const codedBody = (coding: string): Refusal =>
  refusal(
    415,
    {
      rule: "content-coding",
      found: `the content coding "${coding}"`,
      expected: "identity",
      message: `The body is coded as "${coding}"; bodies are read as they are.`,
      hint: "Send a compressed score (.mxl) to save bytes.",
    },
    { "Accept-Encoding": "identity" },
  );
