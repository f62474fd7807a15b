import type { SaidFinding } from "./finding.ts";
import type { Said } from "./say.ts";

/** The bytes of a log too long to be held at once. */
export interface LogParts {
  /** Count of all bytes. */
  readonly length: number;
  /** Bytes `from` up to but not including `to`; they may be overwritten by the next call. */
  part(from: number, to: number): Uint8Array;
}
/** A log as handed over by whoever read it. */
export interface LogFile {
  /** File name without folders. */
  readonly name: string;
  readonly bytes: Uint8Array | LogParts;
  /** SHA-256 of the bytes, lower-case hex. */
  readonly sha256: string;
  /** When the file was last written or first seen, ISO 8601; orders logs whose header states no time. */
  readonly seen?: string;
}
/** A log whose bytes are all at hand. */
export type WholeLog = LogFile & { readonly bytes: Uint8Array };

export type LogKind = "probe" | "sweep" | "sign-offs" | "results";
export type State = "as-found" | "as-left";
export type SweepKind = "traverse" | "rim-sweep" | "face-sweep" | "map";

/** How one thing about a log was settled, with the evidence. */
export interface LogDecision<Text = string> {
  /** `unit`, `separator`, `decimal`, `encoding`, `points`, `sign`, `frame`, `state`, ... */
  readonly what: string;
  readonly value: string;
  readonly because: Text;
}

export interface ExcludedRow<Text = string> {
  readonly line: number;
  readonly reason: Text;
}

/** What became of one log. */
export interface LogRecord {
  readonly name: string;
  readonly sha256: string;
  readonly kind: LogKind;
  /** Data rows seen, rows that became readings, rows left out with their reason. */
  readonly rows: number;
  readonly used: number;
  readonly excluded: readonly ExcludedRow<Said>[];
  readonly decisions: readonly LogDecision<Said>[];
  /** Header keys as written (lower-case keys), control characters already replaced. Unknown keys are kept. */
  readonly header: Readonly<Record<string, string>>;
  /** ISO 8601 time that orders logs: header `time`, else the first row's, else `seen`; null when none is known. */
  readonly time: string | null;
  /** The exact text when the log is UTF-8; null when it is another encoding or too large to keep as text. */
  readonly text: string | null;
}

/** Readings in columns of equal length; lengths in mm, angles in radians. */
export interface Readings {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** Outward surface normals at the touches, where the log has them (unit length). */
  readonly i?: Float64Array;
  readonly j?: Float64Array;
  readonly k?: Float64Array;
  /** Commanded B in radians, one for each point, where the log has it. */
  readonly b?: Float64Array;
  /** 1-based line of each point in its log. */
  readonly line: Int32Array;
}

/** What the indicator showed, kept beside the points that were made from it. */
export interface Sweep {
  readonly kind: SweepKind;
  /** Readings in mm after sign, lever angle and header sag; "+" = the surface came towards the indicator. */
  readonly reading: Float64Array;
  /** Position along the traverse in mm, or angle from +X towards +Y in radians; absent for a map. */
  readonly station?: Float64Array;
  /** Droop of the arm towards -Y in mm as stated in the log's header and already taken out; null when not stated. */
  readonly headerSagMm: number | null;
  /** Radius the points were made with, mm; null for a traverse or a map. */
  readonly radiusMm: number | null;
}

/** Whether coordinates are the surface, the centre of the probe's ball, or not stated. */
export interface TipState {
  readonly points: "surface" | "ball-center" | "unknown";
  /** Effective radius of the ball in mm; null when not stated. */
  readonly radiusMm: number | null;
}

/** One feature as measured in one state by one log. */
export interface MeasuredFeature {
  readonly name: string;
  readonly state: State;
  /** Index into `MeasurementSet.logs`. */
  readonly log: number;
  readonly readings: Readings;
  readonly sweep?: Sweep;
  readonly tip: TipState;
  /** A repeat of the first reading at the end, in mm: last minus first along what was measured. */
  readonly closureMm?: number;
  /** Instrument key of the plan or name from the header; null when not stated. */
  readonly instrument: string | null;
  /** From header `clamping` and `bolt`. */
  readonly clamping: string | null;
  readonly bolt: string | null;
  /** Coordinates of the machine or of the active offset; null when not stated. */
  readonly frame: "machine" | "work" | null;
  /** Part temperature in degrees Celsius; null when not stated. */
  readonly temperatureC: number | null;
  /** Diameter and centre without touches (a results table): usable for offsets, never for form. */
  readonly result?: { readonly diameterMm: number | null };
}

/** One thing a person confirmed or read off. */
export interface SignOffReading {
  readonly check: string;
  /** As written: `yes`, `no`, or a number with the decimal mark of the log resolved. */
  readonly value: string;
  readonly unit: string | null;
  readonly by: string | null;
  readonly time: string | null;
  readonly note: string | null;
  readonly log: number;
  readonly line: number;
}

/** One log understood on its own. */
export interface UnderstoodLog {
  readonly ok: true;
  readonly record: LogRecord;
  /** `log` of each is 0 here; merging gives it its place. */
  readonly features: readonly MeasuredFeature[];
  readonly signOffs: readonly SignOffReading[];
  readonly findings: readonly SaidFinding[];
}
/** A log that cannot be understood: one sentence with the place and the question to answer. */
export interface RejectedLog {
  readonly ok: false;
  readonly name: string;
  readonly sha256: string;
  readonly finding: SaidFinding;
}

/** Everything that is known about one setup before analysis. */
export interface MeasurementSet {
  readonly logs: readonly LogRecord[];
  readonly features: readonly MeasuredFeature[];
  readonly signOffs: readonly SignOffReading[];
  /** Header keys that identify and describe the setup: job, operation, setup, machine, pallet, serial, ... */
  readonly setup: Readonly<Record<string, string>>;
  readonly findings: readonly SaidFinding[];
}
