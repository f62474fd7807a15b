/** Why a computation on points gave no number. The text is one plain sentence without part or file names. */
export interface NoResult {
  readonly ok: false;
  readonly code: "too-few-points" | "degenerate-points" | "not-finite" | "no-convergence";
  readonly text: string;
}
/** A result, or the reason why there is none: degenerate data are an outcome, not an exception. */
export type Outcome<T> = ({ readonly ok: true } & T) | NoResult;

/** A reason why there is no result. */
export const noResult = (code: NoResult["code"], text: string): NoResult => ({ ok: false, code, text });
