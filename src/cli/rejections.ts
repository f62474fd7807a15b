import type { Rejection } from "../records/makeReports.ts";
import { safe, tell } from "./output.ts";

/** One sentence for each log that was not understood, with its place, on stderr. */
export function tellRejections(rejected: readonly Rejection[]): void {
  for (const { logs, finding } of rejected) {
    const { text, hint } = finding;
    // The sentence of a single log begins with its name and line already.
    const names = logs.some((name) => text.text.includes(name)) ? "" : `${logs.join(", ")}: `;
    tell(safe(`rejected: ${names}${text.text}${hint === undefined ? "" : ` ${hint.text}`}`));
  }
}
