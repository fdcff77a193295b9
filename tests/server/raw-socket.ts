import { connect, type Socket } from "node:net";

/** A connection on which a test writes what it likes. */
export interface RawSocket {
  readonly socket: Socket;
  /** Everything the service has sent so far. */
  readonly received: () => string;
  /** Resolves with everything received once the text is among it; rejects where the connection ends first. */
  until(text: string): Promise<string>;
  /** Resolves with everything received once the service has hung up. */
  readonly ended: Promise<string>;
}

export function rawSocket(port: number, host = "127.0.0.1"): RawSocket {
  const socket = connect({ port, host });
  let received = "";
  socket.on("data", (bytes) => {
    received += bytes.toString("latin1");
  });
  // A service that hangs up while we write resets the connection; what it said before counts.
  socket.on("error", () => socket.destroy());
  const ended = new Promise<string>((resolve) => socket.on("close", () => resolve(received)));
  return {
    socket,
    received: () => received,
    until: (text) =>
      new Promise((resolve, reject) => {
        const look = () => {
          if (received.includes(text)) resolve(received);
        };
        socket.on("data", look);
        socket.on("close", () => reject(new Error(`hung up after: ${received}`)));
        look();
      }),
    ended,
  };
}

/** Sends one request as it stands and answers with all that comes back until the service hangs up. */
export function rawAnswer(port: number, request: string): Promise<string> {
  const { socket, ended } = rawSocket(port);
  socket.write(request);
  return ended;
}

/** A request by lines, ended as HTTP ends them. */
export const requestOf = (...lines: readonly string[]): string => `${lines.join("\r\n")}\r\n\r\n`;
