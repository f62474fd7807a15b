/** Numbers for the objects of one file: each once, from 1. */
export interface Ids {
  next(): number;
  /** The largest so far, which the root states. */
  readonly last: number;
}
export function countingIds(): Ids {
  let last = 0;
  return {
    next: () => ++last,
    get last() {
      return last;
    },
  };
}
