import type { NotifyEvent, NotifyTarget } from "../model/notify.ts";

/** What one message holds. The same for every try. */
export interface Parcel {
  readonly idempotencyKey: string;
  readonly event: NotifyEvent;
  /** JSON text of a few flat keys. */
  readonly sidecar: ParcelFile;
  /** The page as it was written, and where it lies. */
  readonly page: ParcelFile & { readonly path: string; readonly type: string };
  /** Path of the whole record. */
  readonly recordPath: string;
}
export interface ParcelFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}
/** How a try ended: arrived, to be tried again (not before `afterMs`, where the other side said so), or refused for good. */
export type Delivery =
  | { readonly how: "arrived" }
  | { readonly how: "again"; readonly because: string; readonly afterMs: number }
  | { readonly how: "refused"; readonly because: string };

export interface Try {
  /** Milliseconds since 1970: the time that is signed. */
  readonly nowMs: number;
  /** Counts from 1. */
  readonly attempt: number;
  readonly secret: Uint8Array | null;
  readonly signal: AbortSignal;
}
/** Brings one message to one target, once. Never throws for what the other side does. */
export type Courier = (target: NotifyTarget, parcel: Parcel, once: Try) => Promise<Delivery>;

/** Words of the other side, fit for a log line: one line, no control characters, cut. */
export function theirWords(text: string): string {
  const line = text
    .replace(/[\p{Cc}\p{Cf}\u2028\u2029]+/gu, " ")
    .replace(/\s+/g, " ")
    .trim();
  return line.length > MOST_WORDS ? `${line.slice(0, MOST_WORDS)}...` : line;
}
const MOST_WORDS = 200;
