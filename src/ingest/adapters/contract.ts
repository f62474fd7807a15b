import type { LogsPlan } from "../../model/plan/plan.ts";
import type { ColumnMatch, KindOfColumns, Mapping } from "../columns.ts";
import type { Comment } from "../header.ts";
import type { LogText } from "../logText.ts";
import type { RowsToCome } from "../long/rowsToCome.ts";
import type { Notebook, Refusal } from "../notebook.ts";
import type { Survey } from "../survey.ts";

export type Separator = "," | ";" | "\t";

/** A log's text with what the shelf may know before it reads: remarks, declared separator, the plan's mapping. */
export interface LogSource {
  readonly name: string;
  readonly text: LogText;
  readonly comments: readonly Comment[];
  readonly separator: { readonly mark: Separator; readonly because: string } | null;
  readonly plan: LogsPlan | null;
  readonly mapping: Mapping;
  /** Lines that say a unit and nothing else; they are neither rows nor titles. */
  readonly unitWords: ReadonlyMap<number, "mm" | "in">;
  /** Lines of column names found in the text. */
  readonly survey: Survey;
}

/** Cells under one set of columns. Rows and lines have equal length; blank lines and remarks are not rows. */
export interface RawTable {
  readonly title: { readonly text: string; readonly line: number } | null;
  readonly columns: ColumnMatch;
  readonly kind: KindOfColumns;
  /** Units that stand in a row of their own, by cell. */
  readonly units: ReadonlyMap<number, { readonly unit: string; readonly line: number }>;
  readonly rows: readonly (readonly string[])[];
  /** Cells that the plan puts behind those of each row. */
  readonly constants?: readonly string[];
  readonly lines: ArrayLike<number>;
  /** Rows whose cells could not be told apart, with the reason. */
  readonly broken: ReadonlyMap<number, string>;
  /** Rows of a long log that come after these. */
  readonly rest?: RowsToCome;
}
export interface RawLog {
  readonly tables: readonly RawTable[];
  /** Header lines stand above this line. */
  readonly firstRowLine: number;
  /** Between cells; null where the shape has no separator. */
  readonly separator: Separator | null;
  /** `key: value` pairs that the shape itself carries, such as `unit=in` in each line. */
  readonly header?: readonly Comment[];
  /** Lines that look like remarks but stand inside a quoted cell. */
  readonly insideCells?: ReadonlySet<number>;
}

/** One shape of log. Of all members exactly one may recognise a text, by what stands in it. */
export interface Adapter {
  readonly id: string;
  /** The evidence in words, or null. */
  recognise(source: LogSource): string | null;
  read(source: LogSource, notes: Notebook): RawLog | Refusal;
}
