import type { RequestHandler } from "express";
import { refusal } from "../refusal.js";
import { ownAuthorities } from "./own-host.js";

/** What a browser says of a request that a page of ours made, or that a person typed. */
const OWN_SITES = ["same-origin", "none"];

/**
 * Refuses what a page of somebody else makes a browser send. Leaving CORS headers away only hides the
 * answer; the work would be done all the same. Programs send neither header, and pass.
 */
export const ownOrigin: RequestHandler = (request, _response, next) => {
  const { origin } = request.headers;
  const site = request.get("Sec-Fetch-Site");
  const origins = ownAuthorities(request).map((authority) => `http://${authority}`);
  const isForeign = origin !== undefined && !origins.includes(origin.toLowerCase());
  if (!isForeign && (site === undefined || OWN_SITES.includes(site))) return next();
  throw refusal(403, {
    rule: "origin-foreign",
    found: isForeign ? `the origin ${origin}` : `a request from a ${site} page`,
    expected: "a program on this machine, or a page of this service",
    message: "The request comes from a web page that is not of this service.",
  });
};
