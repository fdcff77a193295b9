import { STATUS_CODES } from "node:http";
import type { ErrorRequestHandler, Request, RequestHandler, Response } from "express";
import { type Finding, OptionsError, WishesError } from "undervoice";
import type { ServiceLimits } from "./limits.js";
import { Refusal, refusal } from "./refusal.js";

/** Problem details for HTTP (RFC 9457), with the findings as they stand in a report. */
export interface Problem {
  /** Always "about:blank": the status says which problem it is, and the findings which rule. */
  readonly type: "about:blank";
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly findings: readonly Finding[];
}

export const PROBLEM_TYPE = "application/problem+json";

/** What nobody answered. */
export const nothingHere: RequestHandler = ({ path }) => {
  throw refusal(404, {
    rule: "resource-unknown",
    found: path,
    expected: "a resource of this service",
    message: `There is no resource at "${path}".`,
    hint: "GET / lists what there is.",
  });
};

/** The one place where an error becomes an answer. `onMistake` hears of errors that are nobody's fault but ours. */
export function answerWithProblem(
  limits: ServiceLimits,
  onMistake: (error: unknown) => void,
): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    if (response.closed || request.socket.destroyed) return;
    if (response.headersSent) return next(error);
    const refused = refusalFor(error, onMistake);
    const problem: Problem = {
      type: "about:blank",
      title: STATUS_CODES[refused.status] ?? "Error",
      status: refused.status,
      detail: refused.message,
      findings: refused.findings,
    };
    response.status(refused.status).set(refused.headers).type(PROBLEM_TYPE);
    const body = Buffer.from(`${JSON.stringify(problem, undefined, 2)}\n`);
    if (request.readableEnded || request.method === "GET" || request.method === "HEAD") response.send(body);
    else answerBeforeTheEnd(request, response, body, limits);
  };
}

function refusalFor(error: unknown, onMistake: (error: unknown) => void): Refusal {
  if (error instanceof Refusal) return error;
  if (error instanceof OptionsError || error instanceof WishesError) return new Refusal(400, error.findings);
  onMistake(error);
  return refusal(500, {
    rule: "own-mistake",
    found: "a mistake in the service itself",
    expected: "an answer",
    message: "The service made a mistake.",
    hint: "Please report it with the score; what went wrong stands in the terminal of the service.",
  });
}

/**
 * Answers while the body is still on its way. The connection ends with it, but not at once: closing it
 * over unread bytes resets it, and the sender would lose the answer. So what comes is thrown away for a moment.
 */
function answerBeforeTheEnd(request: Request, response: Response, body: Buffer, limits: ServiceLimits): void {
  response.set({ Connection: "close", "Content-Length": String(body.length) });
  response.write(body);
  const end = () => {
    clearTimeout(timer);
    response.end();
  };
  const timer = setTimeout(() => {
    request.pause();
    end();
  }, limits.lingerMs);
  request.once("end", end).once("close", end).resume();
}
