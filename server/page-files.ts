import { extname } from "node:path/posix";
import type { RequestHandler } from "express";

/**
 * What the page may do: run its own scripts and the engraver's, and ask nothing of any other machine. The page
 * says the same of itself, for other servers that hand it out.
 */
const POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "worker-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".json": "application/json",
  ".webmanifest": "application/manifest+json",
  ".txt": "text/plain; charset=utf-8",
  ".svg": "image/svg+xml",
  ".woff2": "font/woff2",
  ".musicxml": "application/vnd.recordare.musicxml+xml",
};

/** Files of the page by their path from "/". They are held in memory, so that a request opens none. */
export type PageFiles = ReadonlyMap<string, Uint8Array>;

/** Hands out the page. Whoever asks for "/" gets it where HTML is asked for before JSON, as browsers do. */
export function pageFiles(files: PageFiles): RequestHandler {
  return (request, response, next) => {
    const isPage = request.path === "/" && request.accepts(["application/json", "text/html"]) === "text/html";
    const path = isPage ? "/index.html" : request.path;
    const content = files.get(path);
    if (content === undefined || !["GET", "HEAD"].includes(request.method)) return next();
    response.set({ "Cache-Control": "no-cache", "Content-Security-Policy": POLICY });
    response.type(TYPES[extname(path)] ?? "application/octet-stream").send(Buffer.from(content));
  };
}
