import { decodeLog } from "../ingest/decodeLog.ts";
import { commentsOf } from "../ingest/header.ts";
import { pairOf } from "../ingest/headerKeys.ts";
import { LogText } from "../ingest/logText.ts";
import { isRefusal, Notebook } from "../ingest/notebook.ts";
import { understandLog } from "../ingest/understandLog.ts";
import type { SaidFinding } from "../model/finding.ts";
import type { LogFile } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import type { Settings } from "../model/settings.ts";
import { type ChainKeys, chainKeysOf } from "./chainKeys.ts";
import { choosePlan, type WorkspacePlan } from "./workspacePlans.ts";

/** What is kept of a log while others are looked at: enough to find its chain, without its bytes. */
export type ScannedLog =
  | {
      readonly ok: true;
      readonly plan: Plan;
      readonly keys: ChainKeys;
      /** ISO 8601 as the log states it, or when it was seen. */
      readonly time: string | null;
    }
  | { readonly ok: false; readonly because: string };

/** Finds a log's plan and reads it by that plan, to know its setup; or says why it cannot be used. */
export function scanLog(
  file: LogFile,
  plans: readonly WorkspacePlan[],
  settings: Pick<Settings, "match">,
): ScannedLog {
  const decoded = decodeLog(file, new Notebook(file.name));
  if (isRefusal(decoded)) return { ok: false, because: findingText(decoded.finding) };
  const named = planNamed(file, decoded.text);
  const choice = choosePlan(
    { name: file.name, header: named === null ? {} : { plan: named } },
    plans,
    settings,
  );
  if ("because" in choice) return { ok: false, because: `${file.name}: ${choice.because}` };
  const { plan } = choice;
  const log = understandLog(file, plan);
  if (!log.ok) return { ok: false, because: findingText(log.finding) };
  return { ok: true, plan, keys: chainKeysOf(log.record, plan.name), time: log.record.time };
}

/** The plan that a log names: in a line of its header, or where its own shape keeps such things. */
function planNamed(file: LogFile, text: string): string | null {
  for (const comment of commentsOf(new LogText(text))) {
    const pair = pairOf(comment.text);
    if (pair?.key === "plan" && pair.value.trim() !== "") return pair.value.trim();
  }
  const log = understandLog(file, null);
  return log.ok && Object.hasOwn(log.record.header, "plan") ? (log.record.header.plan ?? null) : null;
}

/** A finding with its hint, as one text. */
export const findingText = (finding: SaidFinding): string =>
  [finding.text.text, finding.hint?.text].filter((text) => text !== undefined).join(" ");
