import type { LogKind, MeasuredFeature, SignOffReading } from "../../model/measurement.ts";
import type { RawLog } from "../adapters/contract.ts";
import type { SettledMark } from "../decimalMark.ts";
import type { Quantities } from "../headerQuantities.ts";
import type { Settings } from "../headerSettings.ts";
import type { LogText } from "../logText.ts";
import type { Notebook, Refusal } from "../notebook.ts";
import type { RowCount } from "../walkRows.ts";

export interface KindContext {
  readonly name: string;
  /** Whether each row is compared with all before it, or only with the one before. */
  readonly comparesAll: boolean;
  readonly text: LogText;
  readonly notes: Notebook;
  readonly count: RowCount;
  readonly settings: Settings;
  readonly mark: SettledMark;
  readonly quantities: Quantities;
}
export interface KindResult {
  readonly features: readonly MeasuredFeature[];
  readonly signOffs: readonly SignOffReading[];
  /** Time cell of the first row, as written. */
  readonly firstTime: string | null;
}
/** Makes features or sign-offs of the tables of one kind of log. */
export interface KindReader {
  readonly kind: LogKind;
  read(raw: RawLog, context: KindContext): KindResult | Refusal;
}
