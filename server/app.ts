import express, { type Express, type RequestHandler } from "express";
import { bearerToken } from "./guards/bearer-token.js";
import { ownHost } from "./guards/own-host.js";
import { ownOrigin } from "./guards/own-origin.js";
import type { ServiceLimits } from "./limits.js";
import { type PageFiles, pageFiles } from "./page-files.js";
import { answerWithProblem, nothingHere } from "./problem.js";
import { refusal } from "./refusal.js";
import { bodyReader } from "./requests/read-body.js";
import type { Resource } from "./resources/resource.js";
import { RESOURCES } from "./resources/resources.js";
import { type WaitingScore, waitingScore } from "./waiting-score.js";
import type { Workshop } from "./workshop.js";

/** What an app is made with. */
export interface AppSettings {
  readonly version: string;
  readonly limits: ServiceLimits;
  readonly workshop: Workshop;
  /** What a client has to know; undefined lets every program on this machine ask. */
  readonly token: string | undefined;
  /** The page; undefined where there is none. */
  readonly page?: PageFiles | undefined;
  /** A score that the page is to open by itself, and the word that only that page knows. */
  readonly waiting?: WaitingScore | undefined;
  /** Hears of errors that are mistakes of the service itself. */
  onMistake(error: unknown): void;
}

/** The service without a socket: it answers requests and listens nowhere. */
export function createApp({
  version,
  limits,
  workshop,
  token,
  page,
  waiting,
  onMistake,
}: AppSettings): Express {
  const app = express().disable("x-powered-by").disable("etag").enable("strict routing");
  app.enable("case sensitive routing");
  app.use(harmlessAnswers, ownHost, ownOrigin);
  if (page !== undefined) app.use(pageFiles(page));
  if (waiting !== undefined) app.get(`/waiting/${waiting.word}`, waitingScore(waiting));
  const withToken = bearerToken(token);
  const parts = { version, limits, workshop, readBody: bodyReader(limits), resources: RESOURCES };
  for (const resource of RESOURCES) {
    const { path, method, isOpen } = resource;
    if (!isOpen) app.all(path, withToken);
    app[method](path, resource.answer(parts));
    app.all(path, otherMethod(resource));
  }
  return app.use(nothingHere, answerWithProblem(limits, onMistake));
}

/** Whatever a browser is made to do with an answer, it runs nothing in it and hands it to no other page. */
const harmlessAnswers: RequestHandler = (_request, response, next) => {
  response.set({
    "Cache-Control": "no-store",
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
  });
  next();
};

const otherMethod =
  ({ path, method }: Resource): RequestHandler =>
  (request) => {
    const allowed = method === "get" ? "GET, HEAD" : "POST";
    throw refusal(
      405,
      {
        rule: "method-not-allowed",
        found: request.method,
        expected: allowed,
        message: `"${path}" takes ${allowed}, not ${request.method}.`,
      },
      { Allow: allowed },
    );
  };
