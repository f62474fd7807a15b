import { createHmac } from "node:crypto";
import { type ClientRequest, request as httpRequest, type IncomingMessage } from "node:http";
import { request as httpsRequest } from "node:https";
import { VERSION } from "../model/version.ts";
import { type Delivery, type Parcel, type Try, theirWords } from "./courier.ts";

/** Of an answer only so much is read, for its words. */
const MOST_ANSWER_BYTES = 4096;
const LONGEST_WAIT_MS = 86_400_000;

/**
 * Posts a message as multipart/form-data (RFC 7578): `sidecar` as JSON, then `report`, the page. 2xx is arrived; no answer, 408,
 * 425, 429 and 5xx are tried again; everything else is refused for good, a redirect too: it is not followed.
 */
export function postParcel(
  url: string,
  parcel: Parcel,
  once: Try & { readonly timeoutMs: number },
): Promise<Delivery> {
  const body = multipart(parcel);
  const request = url.startsWith("https:") ? httpsRequest : httpRequest;
  return new Promise((resolve) => {
    const open = request(url, { method: "POST", agent: false, headers: headersOf(parcel, body, once) });
    let ended = false;
    const end = (delivery: Delivery): void => {
      if (ended) return;
      ended = true;
      clearTimeout(timer);
      once.signal.removeEventListener("abort", stop);
      resolve(delivery);
      open.destroy();
    };
    let answer: IncomingMessage | null = null;
    // Once the first line of an answer is there it counts, however it goes on.
    const cut = (because: string): void => (answer === null ? end(again(because)) : undefined);
    const timer = setTimeout(() => {
      if (answer === null) end(again(`no answer within ${once.timeoutMs / 1000} s`));
      else end(judged(answer, "", once.nowMs));
    }, once.timeoutMs);
    const stop = (): void => end(again("this run was stopped"));
    once.signal.addEventListener("abort", stop, { once: true });
    if (once.signal.aborted) stop();
    open.on("error", (error) => cut(wordsOf(error)));
    open.on("upgrade", (_, socket) => {
      socket.destroy();
      end(again("the answer was no answer to a POST"));
    });
    open.on("response", (response) => {
      answer = response;
      wordsOfAnswer(response, (words) => end(judged(response, words, once.nowMs)));
    });
    send(open, body);
  });
}

function send(open: ClientRequest, body: Uint8Array): void {
  open.end(body);
}

/** The first bytes of an answer, when it ends, breaks off or has said enough. */
function wordsOfAnswer(response: IncomingMessage, done: (words: string) => void): void {
  const parts: Buffer[] = [];
  let length = 0;
  const end = (): void =>
    done(theirWords(Buffer.concat(parts).subarray(0, MOST_ANSWER_BYTES).toString("utf8")));
  response.on("data", (part: Buffer) => {
    parts.push(part);
    length += part.length;
    if (length >= MOST_ANSWER_BYTES) end();
  });
  response.on("end", end);
  response.on("error", end);
  response.on("close", end);
}

function judged(response: IncomingMessage, words: string, nowMs: number): Delivery {
  const status = response.statusCode ?? 0;
  if (status >= 200 && status < 300) return { how: "arrived" };
  const said = `HTTP ${status}${words === "" ? "" : `: ${words}`}`;
  if (status >= 300 && status < 400)
    return {
      how: "refused",
      because: `HTTP ${status}: a redirect is not followed; put the final address into plinth.yaml`,
    };
  if (status === 408 || status === 425 || status === 429 || status >= 500)
    return { ...again(said), afterMs: retryAfterMs(response.headers["retry-after"], nowMs) };
  return { how: "refused", because: said };
}
const again = (because: string) => ({ how: "again", because, afterMs: 0 }) as const;

/** `Retry-After` as seconds or as a date (RFC 9110, 10.2.3), a day at most. */
function retryAfterMs(header: string | undefined, nowMs: number): number {
  if (header === undefined) return 0;
  const ms = /^\d+$/.test(header) ? Number(header) * 1000 : Date.parse(header) - nowMs;
  return Number.isNaN(ms) ? 0 : Math.min(Math.max(0, ms), LONGEST_WAIT_MS);
}

function headersOf(parcel: Parcel, body: Uint8Array, { nowMs, secret }: Try): Record<string, string> {
  const timestamp = String(Math.floor(nowMs / 1000));
  return {
    "content-type": `multipart/form-data; boundary=${boundaryOf(parcel)}`,
    "content-length": String(body.length),
    "idempotency-key": parcel.idempotencyKey,
    "plinth-event": parcel.event,
    "plinth-timestamp": timestamp,
    ...(secret !== null && { "plinth-signature": `sha256=${signatureOf(secret, timestamp, body)}` }),
    "user-agent": `plinth/${VERSION}`,
    connection: "close",
  };
}

/** HMAC-SHA256 (RFC 2104) over the timestamp, a dot and the body, in lower-case hex. */
const signatureOf = (secret: Uint8Array, timestamp: string, body: Uint8Array): string =>
  createHmac("sha256", secret).update(`${timestamp}.`).update(body).digest("hex");

/** The key comes of a hash over what is sent, so that it does not stand in it. */
const boundaryOf = ({ idempotencyKey }: Parcel): string => `plinth-${idempotencyKey}`;

function multipart(parcel: Parcel): Uint8Array {
  const { sidecar, page } = parcel;
  const head = (name: string, file: string, type: string): string =>
    `--${boundaryOf(parcel)}\r\nContent-Disposition: form-data; name="${name}"; filename="${file}"\r\nContent-Type: ${type}\r\n\r\n`;
  return Buffer.concat([
    Buffer.from(head("sidecar", sidecar.name, "application/json")),
    sidecar.bytes,
    Buffer.from(`\r\n${head("report", page.name, page.type)}`),
    page.bytes,
    Buffer.from(`\r\n--${boundaryOf(parcel)}--\r\n`),
  ]);
}

/** What node says of a connection, without what it says of our side. */
function wordsOf(error: Error): string {
  const { code } = error as NodeJS.ErrnoException;
  const words: Readonly<Record<string, string>> = {
    ECONNREFUSED: "nobody listens there",
    ECONNRESET: "the connection was cut",
    EPIPE: "the connection was cut",
    ENOTFOUND: "there is no such host",
    EAI_AGAIN: "the host's name is not known just now",
    ETIMEDOUT: "the host does not answer",
    EHOSTUNREACH: "the host cannot be reached",
    ENETUNREACH: "the network cannot be reached",
  };
  return words[code ?? ""] ?? theirWords(error.message);
}
