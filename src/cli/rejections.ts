import type { Rejection } from "../records/makeReports.ts";
import { safe, tell } from "./output.ts";

/** One sentence for each log that was not understood, with its place, on stderr. */
export function tellRejections(rejected: readonly Rejection[]): void {
  for (const { logs, finding } of rejected) {
    const line = finding.line === undefined ? "" : ` line ${finding.line}`;
    const hint = finding.hint === undefined ? "" : ` ${finding.hint.text}`;
    tell(safe(`rejected ${logs.join(", ")}${line}: ${finding.text.text}${hint}`));
  }
}
