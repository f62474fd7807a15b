import { once } from "node:events";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach } from "vitest";

/** A request as it came in, whole. */
export interface Received {
  readonly key: string;
  readonly headers: IncomingMessage["headers"];
  readonly body: Buffer;
  readonly path: string;
  /** Milliseconds of the test's own clock. */
  readonly at: number;
}
/** What the server does with its n-th request; the last one for all that follow. */
export type Behaviour = (response: ServerResponse, request: Received) => void | Promise<void>;

export interface Receiver {
  readonly url: string;
  readonly port: number;
  readonly received: Received[];
  /** When so many requests have come. */
  gets(count: number): Promise<void>;
  close(): Promise<void>;
}

const servers: Server[] = [];
afterEach(async () => {
  for (const server of servers.splice(0)) await closed(server);
});
async function closed(server: Server): Promise<void> {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
}

/** A real HTTP server on this machine. */
export async function receiver(
  behaviours: readonly Behaviour[],
  { now = () => 0, port = 0 }: { readonly now?: () => number; readonly port?: number } = {},
): Promise<Receiver> {
  const received: Received[] = [];
  let look: () => void = () => undefined;
  const server = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on("error", () => undefined);
    response.on("error", () => undefined);
    request.on("data", (part: Buffer) => parts.push(part));
    request.on("end", () => {
      const one = {
        key: String(request.headers["idempotency-key"]),
        headers: request.headers,
        body: Buffer.concat(parts),
        path: request.url ?? "",
        at: now(),
      };
      received.push(one);
      void behaviours[Math.min(received.length, behaviours.length) - 1]?.(response, one);
      look();
    });
  });
  servers.push(server);
  server.listen(port, "127.0.0.1");
  await once(server, "listening");
  const at = (server.address() as AddressInfo).port;
  return {
    url: `http://127.0.0.1:${at}/in`,
    port: at,
    received,
    gets: (count) =>
      new Promise((resolve) => {
        look = () => received.length >= count && resolve();
        look();
      }),
    close: () => closed(server),
  };
}

export const answer =
  (status: number, headers: Record<string, string> = {}, text = ""): Behaviour =>
  (response) => {
    response.writeHead(status, headers).end(text);
  };
export const stall: Behaviour = () => undefined;
export const cut: Behaviour = (response) => void response.socket?.destroy();
