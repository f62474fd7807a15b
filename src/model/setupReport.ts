import type { ReportEntry } from "./entry.ts";
import type { Finding } from "./finding.ts";
import type { Language } from "./language.ts";
import type { ExcludedRow, LogDecision, LogKind, State, SweepKind } from "./measurement.ts";
import type { SaidValue } from "./say.ts";

/** `pass`, `fail`, `undecided` (these data do not decide), `missing` (nothing measured or signed). */
export type Verdict = "pass" | "fail" | "undecided" | "missing";
export type Unit = "mm" | "deg";
type Triple = readonly [number, number, number];

export const REPORT_SCHEMA = "plinth.setup-report/1";

/**
 * The result of one setup: the only door between computing and showing. Lengths in mm, angles in degrees.
 * `Text` is `Said` inside the analysis and plain English in the stored record, where `wording` keeps what a page
 * needs to say the same sentence in another unit or language.
 */
export interface SetupReport<Text = string> {
  readonly schema: typeof REPORT_SCHEMA;
  readonly report: {
    readonly id: string;
    readonly revision: number;
    readonly issued: string;
    /** Revision number that this one replaces, or null. */
    readonly replaces: number | null;
  };
  readonly verdict: Verdict;
  readonly counts: Readonly<Record<Verdict, number>>;
  readonly setup: Readonly<Record<string, string>>;
  readonly plan: {
    readonly name: string;
    readonly title: string;
    readonly sha256: string;
    readonly text: string;
  };
  readonly decision: {
    readonly rule: "guarded" | "simple";
    readonly guard: number;
    readonly coverage: number;
  };
  readonly unit: "mm";
  readonly angleUnit: "deg";
  readonly show: "mm" | "in";
  /** The other unit of length, in brackets behind, where the reader asked for both. */
  readonly showAlso?: "mm" | "in";
  readonly language: Language;
  readonly logs: readonly ReportLog<Text>[];
  readonly instruments: readonly ReportInstrument[];
  readonly features: Readonly<Record<string, ReportFeature<Text>>>;
  readonly characteristics: readonly ReportCharacteristic<Text>[];
  readonly advice: readonly ReportAdvice<Text>[];
  /** The next move at arm's length: at most five lines, in the order of doing. */
  readonly card?: readonly Text[];
  /** What was found, what was left, and whether the correction went the right way. */
  readonly corrections?: readonly ReportCorrection<Text>[];
  readonly signOffs: readonly ReportSignOff<Text>[];
  readonly findings: readonly Finding<Text>[];
  readonly generator: { readonly name: "plinth"; readonly version: string };
  /** Earlier values that the result used (re-seat, drift), so that it can be computed again without the ledger. */
  readonly history?: readonly HistoryValue[];
  /** What quality had said of earlier revisions when this one was made. */
  readonly entries?: readonly ReportEntry[];
  /** English sentence -> template and values it was made from. */
  readonly wording?: Readonly<Record<string, Wording>>;
}
/** One value from an earlier report. */
export interface HistoryValue {
  /** Feature, characteristic or advice it belongs to. */
  readonly of: string;
  /** What of it: `slopeX`, `x`, `value`, ... */
  readonly quantity: string;
  readonly value: number;
  /** ISO 8601 time of issue. */
  readonly issued: string;
  readonly report: string;
}
export interface Wording {
  readonly template: string;
  readonly values: Readonly<Record<string, SaidValue>>;
}

export interface ReportLog<Text = string> {
  readonly name: string;
  readonly sha256: string;
  readonly kind: LogKind;
  readonly rows: number;
  readonly used: number;
  readonly excluded: readonly ExcludedRow<Text>[];
  readonly decisions: readonly LogDecision<Text>[];
  readonly header: Readonly<Record<string, string>>;
  /** The exact text, or `gzip` (base64) for a log that is not UTF-8 or over 1 MB; neither above 8 MB. */
  readonly text?: string;
  readonly gzip?: string;
  /** The log stood in an earlier revision already when others of this report came. */
  readonly earlier?: true;
}

export interface ReportInstrument {
  readonly name: string;
  /** Standard uncertainty of one reading in mm; null when not stated. */
  readonly uncertainty: number | null;
  readonly calibrationDue: string | null;
  readonly where: "on-machine" | "independent" | null;
}

/** One fitted feature. Numbers are null when the fit gave none; `trouble` then says why. */
export interface ReportFeature<Text = string> {
  readonly fit: string;
  readonly points: number;
  readonly state: State;
  readonly center: Triple | null;
  readonly direction: Triple | null;
  readonly diameter?: number | null;
  readonly rms: number | null;
  readonly zone?: FormZone | null;
  readonly inscribed?: RoundSize | null;
  readonly circumscribed?: RoundSize | null;
  readonly trouble?: Text;
  /** How good the fit was: degrees of freedom, scatter, condition number, iterations. */
  readonly quality?: FitQuality;
  readonly sweep?: ReportSweep;
  readonly clamping?: string;
  readonly bolt?: string;
  readonly where?: "on-machine" | "independent";
  readonly asFound?: ReportFeature<Text>;
  /** What a plot needs; at most a few thousand points, the extremes always among them. */
  readonly plot?: FeaturePlot;
}
/** What the indicator showed, lengths in mm. */
export interface ReportSweep {
  readonly kind: SweepKind;
  readonly radius: number | null;
  readonly fim: number;
  /** Droop of the arm towards -Y that the log stated and that was taken out. */
  readonly sag?: number;
  /** Waves round a rim or face sweep beside eccentricity or tilt. */
  readonly waves?: readonly SweepWave[];
}
/** cosine cos(n angle) + sine sin(n angle), the angle from +X towards +Y. */
export interface SweepWave {
  readonly n: number;
  readonly cosine: number;
  readonly sine: number;
}
export interface FormZone {
  readonly leastSquares: number;
  readonly minimum: number;
  /** `global` or `local`: how far the proof of the minimum reaches; `none` marks an upper bound. */
  readonly proof: "global" | "local" | "none";
  /** Numbers of the points (0-based, in the order measured) that hold the zone, with their dual weights. */
  readonly support?: readonly SupportPoint[];
}
export interface SupportPoint {
  readonly point: number;
  /** Positive on the outer or upper boundary, negative on the inner or lower one. */
  readonly weight: number;
}
export interface RoundSize {
  readonly center: Triple;
  readonly diameter: number;
  readonly support?: readonly number[];
}
export interface FitQuality {
  readonly degreesOfFreedom: number;
  readonly scatter: number | null;
  readonly condition: number | null;
  readonly iterations: number;
}
/** Columns for drawing: places of the points, their deviation from the fit, and the line of the log. */
export interface FeaturePlot {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly z: readonly number[];
  readonly deviation: readonly number[];
  readonly line: readonly number[];
  /** How many points there were when not all are here. */
  readonly of: number;
}

export interface ReportCharacteristic<Text = string> {
  readonly id: string;
  readonly kind: string;
  readonly of: string | readonly string[];
  readonly to: string | null;
  readonly value: number | null;
  readonly unit: Unit;
  /** Expanded uncertainty in the value's unit; null when not known. */
  readonly uncertainty: number | null;
  /** Coverage factor of `uncertainty`. */
  readonly coverage: number | null;
  readonly limits: { readonly lower: number | null; readonly upper: number | null };
  readonly nominal: number | null;
  readonly verdict: Verdict;
  readonly because: Text;
  /** Value found before correction, when the feature was also measured as found. */
  readonly asFound: number | null;
  readonly state: State | null;
  readonly points: number;
  /** Which definition was computed: fit, zone, datum, length. */
  readonly method: Text;
  /** Probability that the true value is inside the limits, from value and uncertainty. */
  readonly conformance: number | null;
  /** The cheapest ways to decide, when undecided. */
  readonly toDecide: readonly Text[];
  /** What must be known beside it: in the clamp or free, same machine or independent, extrapolated. */
  readonly remarks: readonly Text[];
}

/** One quantity of a feature that was measured before and after a correction. */
export interface ReportCorrection<Text = string> {
  readonly feature: string;
  /** `slopeX`, `slopeY` of a face, `x`, `y` of a rim sweep. */
  readonly quantity: string;
  /** mm, or mm per mm. */
  readonly unit: "mm" | "slope";
  readonly asFound: number;
  readonly asLeft: number;
  /** The change that would have put it right: -asFound; and the one that was made: asLeft - asFound. */
  readonly wanted: number;
  readonly made: number;
  /** asLeft / asFound: near 0 good, near 1 nothing moved, near 2 the wrong way; null when too small to tell. */
  readonly ratio: number | null;
  readonly judged: "good" | "partly" | "nothing-moved" | "wrong-way" | "too-far" | "too-small";
  readonly because: Text;
}

export interface Move {
  /** Stop, screw, chuck, part or offset that moves. */
  readonly at: string;
  readonly along: string;
  /** Positive towards the positive axis. */
  readonly amount: number;
  readonly unit: Unit;
  readonly turnDegrees?: number;
  /** In words: towards the spindle, to the right, screw in or out. */
  readonly words?: string;
}

export interface ReportAdvice<Text = string> {
  readonly kind: string;
  readonly of: string | readonly string[] | Readonly<Record<string, string>> | null;
  /** One line that can be read at arm's length; says why where there is no result. */
  readonly headline: Text;
  readonly moves: readonly Move[];
  /** The reading to expect afterwards. */
  readonly expect: Text | null;
  /** The next check. */
  readonly next: Text | null;
  /** Numbers in mm, degrees, slopes as mm per mm; keys are fixed for each kind. */
  readonly values: Readonly<Record<string, AdviceValue>>;
  /** Steps of the working, so that a second person can check it. */
  readonly working: readonly Text[];
  readonly cautions: readonly Text[];
  /** A number could not be given: `undecided`, with the headline as the reason. Else `advised`. */
  readonly status: "advised" | "undecided" | "missing";
  /** Its moves shift what was measured, by more than the readings are unsure: numbers to key in are out of date after them. */
  readonly shifts?: true;
  /** Cutting must wait, whatever the verdict on what was measured. */
  readonly halt?: true;
  /** Data for the advice's own plot, by its plot's own definition. */
  readonly plot?: { readonly kind: string; readonly data: unknown };
}
export type AdviceValue =
  | number
  | string
  | boolean
  | null
  | readonly AdviceValue[]
  | { readonly [key: string]: AdviceValue };

/** Whether moves that shift what was measured make these numbers old: an offset, but not the centre of the B axis. */
export const isOutdated = ({ kind }: { readonly kind: string }): boolean => kind === "work-offset";

/** Whether a pass alone would mislead: what was judged is good, and an advice says not to cut. */
export const halted = <Text>({ verdict, advice }: SetupReport<Text>): boolean =>
  verdict === "pass" && advice.some(({ halt }) => halt === true);

export interface ReportSignOff<Text = string> {
  readonly id: string;
  readonly ask: string;
  /** A number is in the plan's unit. */
  readonly value: number | string | null;
  /** As a person wrote it, with its unit, where that is another one. */
  readonly written?: { readonly value: number; readonly unit: string };
  readonly unit: string | null;
  readonly by: string | null;
  readonly time: string | null;
  readonly verdict: Verdict;
  readonly because: Text;
  readonly limits: { readonly lower: number | null; readonly upper: number | null };
}
