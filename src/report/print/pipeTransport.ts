import type { Readable, Writable } from "node:stream";
import type { ConnectionTransport } from "puppeteer-core";

/**
 * Messages to and from a browser over two pipes, each ended by a zero byte. A pipe, not a port: no other program can
 * connect, and the browser ends by itself when this process is killed.
 */
export function pipeTransport(toBrowser: Writable, fromBrowser: Readable): ConnectionTransport {
  let waiting: Buffer[] = [];
  let open = true;
  const transport: ConnectionTransport = {
    send(message) {
      if (open) toBrowser.write(`${message}\0`);
    },
    close() {
      open = false;
      toBrowser.end();
    },
  };
  function end(): void {
    open = false;
    transport.onclose?.();
  }
  fromBrowser.on("data", (chunk: Buffer) => {
    let start = 0;
    for (let at = chunk.indexOf(0); at >= 0; at = chunk.indexOf(0, start)) {
      const message = Buffer.concat([...waiting, chunk.subarray(start, at)]).toString("utf8");
      waiting = [];
      start = at + 1;
      setImmediate(() => transport.onmessage?.(message));
    }
    if (start < chunk.length) waiting.push(chunk.subarray(start));
  });
  fromBrowser.once("close", end);
  // A broken pipe means that the browser has ended; "close" follows and tells so.
  fromBrowser.on("error", () => undefined);
  toBrowser.on("error", () => undefined);
  return transport;
}
