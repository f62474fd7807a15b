import type { NotifyEvent } from "./notify.ts";

/** What is owed to a target, as the ledger keeps it: enough to make the same message again after any crash. */
export interface OwedMessage {
  readonly event: NotifyEvent;
  /** Path in the workspace without ending, with `/`. */
  readonly base: string;
  /** Ending of the page that goes along: PDF, or HTML where none was printed. */
  readonly page: "pdf" | "html";
  /** Of the JSON beside it, so that only what was accepted is sent. */
  readonly jsonSha256: string;
}
