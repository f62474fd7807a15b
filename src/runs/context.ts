import type { DurableEffects } from "../model/effects.ts";
import type { Ledger } from "../records/ledger/openLedger.ts";
import type { PdfMaker } from "../records/pdfFor.ts";
import type { Workspace } from "../records/workspace.ts";
import type { WorkspacePlan } from "../records/workspacePlans.ts";
import type { RunLog } from "./runLog.ts";

/** What every step of a run may use. */
export interface RunContext {
  readonly effects: DurableEffects;
  readonly workspace: Workspace;
  readonly ledger: Ledger;
  /** Opens the ledger again, after the disk under it was away. */
  reopen(): Promise<void>;
  readonly log: RunLog;
  /** Milliseconds that reports, days and archive go by: SOURCE_DATE_EPOCH or the clock. */
  runNow(): number;
  /** Messages may be owed now. */
  owed(): void;
  /** Signs of life between two steps that may last. */
  beat(state: string): Promise<void>;
  /** Opens what prints the pages of one round. */
  printer(): PdfMaker;
  readonly signal: AbortSignal;
}
/** One round through the queue. */
export interface RoundContext extends Omit<RunContext, "printer"> {
  readonly plans: readonly WorkspacePlan[];
  readonly printer: PdfMaker;
  readonly tally: Tally;
}

/** What a run has done. */
export interface Tally {
  accepted: number;
  rejected: number;
  duplicates: number;
  reports: TalliedReport[];
}
export interface TalliedReport {
  readonly id: string;
  readonly revision: number;
  readonly verdict: "pass" | "fail" | "undecided" | "missing";
  readonly counts: Readonly<Record<"pass" | "fail" | "undecided" | "missing", number>>;
}
