import type { Request, RequestHandler } from "express";
import { refusal } from "../refusal.js";

const OWN_NAMES = ["localhost", "127.0.0.1", "[::1]"];

/**
 * The authorities this connection may be called by. The port is the one the connection came in on, so
 * that the app needs not know where it listens.
 */
export function ownAuthorities(request: Request): readonly string[] {
  const port = request.socket.localPort;
  return OWN_NAMES.flatMap((name) => [`${name}:${port}`, ...(port === 80 ? [name] : [])]);
}

/**
 * Refuses a request that was meant for another host. A web page can have its own name pointed at this
 * machine; the browser then takes our answers for its own, but still sends its name as Host.
 */
export const ownHost: RequestHandler = (request, _response, next) => {
  const hosts = request.headersDistinct.host ?? [];
  const [host] = hosts;
  const isOwn =
    host !== undefined && hosts.length === 1 && ownAuthorities(request).includes(host.toLowerCase());
  // A request line may carry a whole address, and that would count for more than Host.
  if (isOwn && request.originalUrl.startsWith("/")) return next();
  throw refusal(403, {
    rule: "host-foreign",
    found: isOwn ? request.originalUrl : hosts.join(", ") || "no Host",
    expected: ownAuthorities(request).join(", "),
    message: "The request names a host that is not this service.",
    hint: "Ask for it as localhost or 127.0.0.1, with its port.",
  });
};
