import * as v from "valibot";
import { duration } from "./duration.ts";
import { about, choice, list, name, object, optional, refined } from "./plan/fields.ts";
import { isMapping } from "./plan/sections.ts";

/** What somebody may be told of. */
export type NotifyEvent = "report" | "digest";

/** Who is told of a new revision or digest: an HTTP address or a command. */
export interface NotifyTarget {
  /** Known by this in the ledger: its own name, else the address without its query, else the command. */
  readonly name: string;
  readonly hook:
    | { readonly url: string; readonly secret: SecretPlace | null }
    | { readonly command: readonly string[] };
  readonly on: readonly NotifyEvent[];
  /** Without an answer or an end for so long, the try counts as failed. */
  readonly timeoutMs: number;
}
/** Where the secret of the signature is; never the secret itself. A file is named from the workspace's folder. */
export type SecretPlace = { readonly environment: string } | { readonly file: string };

const DEFAULT_TIMEOUT_MS = 30_000;

const isWebAddress = (text: string): boolean => URL.canParse(text) && /^\s*https?:\/\//i.test(text);

/** One entry of `notify` in the settings. */
export const notifyEntry = () =>
  object({
    name: optional(name()),
    url: optional(
      refined(
        about(
          { expects: "an http(s) address" },
          refined(v.string(), isWebAddress, "expected an address that starts with https:// or http://"),
        ),
        (address) => !/^[^/]*\/\/[^/?#]*@/.test(address),
        "an address has no name or password in it; sign with secret-env or secret-file",
      ),
    ),
    command: optional(about({ expects: "a list: the program, then its arguments" }, list(name()))),
    "secret-env": optional(
      v.pipe(
        v.string(),
        v.regex(
          /^[A-Za-z_][A-Za-z0-9_]*$/,
          "expected the name of an environment variable, never the secret itself",
        ),
      ),
    ),
    "secret-file": optional(name()),
    timeout: optional(duration("30 s")),
    on: optional(list(choice(["report", "digest"]))),
  });
type NotifyEntry = v.InferOutput<ReturnType<typeof notifyEntry>>;

/** The targets of checked entries; an entry with an address and a command is two. */
export function notifyTargets(entries: readonly NotifyEntry[]): NotifyTarget[] {
  return entries.flatMap((entry) => {
    const shared = { on: entry.on ?? (["report"] as const), timeoutMs: entry.timeout ?? DEFAULT_TIMEOUT_MS };
    const targets: NotifyTarget[] = [];
    if (entry.url !== undefined)
      targets.push({
        ...shared,
        name: entry.name ?? withoutQuery(entry.url),
        hook: { url: entry.url, secret: secretOf(entry) },
      });
    if (entry.command !== undefined)
      targets.push({
        ...shared,
        name:
          entry.name === undefined
            ? entry.command.join(" ")
            : entry.name + (entry.url === undefined ? "" : " (command)"),
        hook: { command: entry.command },
      });
    return targets;
  });
}
/** A query may hold what only the receiver should know. */
const withoutQuery = (address: string): string => address.replace(/[?#].*$/s, "");
function secretOf(entry: NotifyEntry): SecretPlace | null {
  if (entry["secret-env"] !== undefined) return { environment: entry["secret-env"] };
  return entry["secret-file"] === undefined ? null : { file: entry["secret-file"] };
}

/** What is wrong with entries beyond the shape of each, by their place in the list. */
export function notifyProblems(raw: unknown): { readonly index: number; readonly text: string }[] {
  const problems: { index: number; text: string }[] = [];
  const names = new Set<string>();
  for (const [index, entry] of (Array.isArray(raw) ? raw : []).entries()) {
    if (!isMapping(entry)) continue;
    const told = (text: string): void => void problems.push({ index, text });
    const secrets = ["secret-env", "secret-file"].filter((key) => entry[key] !== undefined);
    if (entry.url === undefined && entry.command === undefined)
      told("this entry tells nobody; give it a url or a command");
    if (entry.url === undefined && entry.command !== undefined && secrets.length > 0)
      told(`${secrets[0]} signs what goes to a url; this entry has none`);
    if (secrets.length === 2) told("secret-env and secret-file: one secret is enough; leave one out");
    const known = String(entry.name ?? entry.url ?? JSON.stringify(entry.command));
    if (names.has(known))
      told(`${known} is told by an entry above already; give this one a name of its own, or leave it out`);
    names.add(known);
  }
  return problems;
}
