import { createHash } from "node:crypto";

/** Drawn once for the names that are hashed here. */
const NAMESPACE = "9c1f4b52-6d1e-4a0b-8f3c-2b7a5e90d641";

/** A UUID made from a name in a namespace (RFC 9562, version 5): the same name always gives the same one. */
export function nameUuid(name: string, namespace = NAMESPACE): string {
  const bytes = createHash("sha1")
    .update(Buffer.from(namespace.replaceAll("-", ""), "hex"))
    .update(name)
    .digest()
    .subarray(0, 16);
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x50;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = bytes.toString("hex");
  return [
    [0, 8],
    [8, 12],
    [12, 16],
    [16, 20],
    [20, 32],
  ]
    .map(([from, to]) => hex.slice(from, to))
    .join("-");
}
