import { createHash, timingSafeEqual } from "node:crypto";
import type { RequestHandler } from "express";
import { refusal } from "../refusal.js";

/** Lets only those pass who know the token; everyone where none was set. */
export function bearerToken(token: string | undefined): RequestHandler {
  if (token === undefined) return (_request, _response, next) => next();
  const wanted = digest(token);
  return (request, _response, next) => {
    const [, given] = /^Bearer +(\S+)$/i.exec(request.get("Authorization") ?? "") ?? [];
    if (given !== undefined && timingSafeEqual(digest(given), wanted)) return next();
    throw refusal(
      401,
      {
        rule: "token-wrong",
        found: given === undefined ? "no token" : "another token",
        expected: "the token the service was started with",
        message: "The request does not carry the token of this service.",
        hint: "Send it as Authorization: Bearer TOKEN.",
      },
      { "WWW-Authenticate": 'Bearer realm="undervoice"' },
    );
  };
}

/** Of one length whatever the text, so that the time a comparison takes tells nothing. */
const digest = (text: string): Buffer => createHash("sha256").update(text).digest();
