import { createServer, type RequestListener, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import type { ServiceLimits } from "./limits.js";

/** Addresses that no other machine can reach. */
const LOOPBACK = { four: "127.0.0.1", six: "::1" } as const;

/** How often slow connections are looked for: small beside the shortest of their limits. */
const CHECKS_PER_LIMIT = 4;

export interface Listening {
  readonly port: number;
  /** Takes no more requests, lets those that were begun be answered, and hangs up. */
  close(): Promise<void>;
}

/**
 * Listens on the loopback addresses only, IPv6 too where the machine has it, both at one port. Port 0 is any free one.
 *
 * @throws the system's error where the port is taken or not permitted
 */
export async function listen(app: RequestListener, port: number, limits: ServiceLimits): Promise<Listening> {
  const four = await listening(app, LOOPBACK.four, port, limits);
  const { port: taken } = four.address() as AddressInfo;
  const six = await listening(app, LOOPBACK.six, taken, limits).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "EADDRNOTAVAIL" || error.code === "EAFNOSUPPORT") return undefined;
    four.close();
    throw error;
  });
  const servers = six === undefined ? [four] : [four, six];
  return {
    port: taken,
    close: async () => {
      await Promise.all(servers.map((server) => closed(server, limits)));
    },
  };
}

function listening(app: RequestListener, host: string, port: number, limits: ServiceLimits): Promise<Server> {
  const server = createServer(
    {
      headersTimeout: limits.headersMs,
      requestTimeout: limits.requestMs,
      keepAliveTimeout: limits.idleMs,
      // The usual half minute would let a slow client overstay its limit by as much.
      connectionsCheckingInterval: Math.max(
        50,
        Math.min(limits.headersMs, limits.requestMs) / CHECKS_PER_LIMIT,
      ),
    },
    app,
  );
  server.maxConnections = limits.connections;
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen({ host, port, ipv6Only: host === LOOPBACK.six }, () => {
      server.off("error", reject);
      resolve(server);
    });
  });
}

function closed(server: Server, { requestMs, workMs }: ServiceLimits): Promise<void> {
  return new Promise((resolve) => {
    // By then whatever was asked has been answered or refused.
    const patience = setTimeout(() => server.closeAllConnections(), requestMs + workMs);
    server.close(() => {
      clearTimeout(patience);
      resolve();
    });
    server.closeIdleConnections();
  });
}
