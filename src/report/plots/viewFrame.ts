/** How three axes fall onto the paper when a face is looked at from outside. */
export interface ViewFrame {
  /** Index of the axis that runs to the right and up, with its sense. */
  readonly right: readonly [axis: 0 | 1 | 2, sense: 1 | -1];
  readonly up: readonly [axis: 0 | 1 | 2, sense: 1 | -1];
}

/** The view along the largest part of an outward direction: Y up where the face stands, X right where it lies. */
export function viewFrame(direction: readonly number[] | null): ViewFrame {
  const [x = 0, y = 0, z = 1] = direction ?? [0, 0, 1];
  const size = [Math.abs(x), Math.abs(y), Math.abs(z)] as const;
  if (size[2] >= size[0] && size[2] >= size[1]) return { right: [0, z < 0 ? -1 : 1], up: [1, 1] };
  if (size[0] >= size[1]) return { right: [2, x > 0 ? -1 : 1], up: [1, 1] };
  return { right: [0, 1], up: [2, y > 0 ? -1 : 1] };
}

export function inView(place: readonly [number, number, number], frame: ViewFrame): [number, number] {
  return [place[frame.right[0]] * frame.right[1], place[frame.up[0]] * frame.up[1]];
}

/** `X`, or `−Z` where the axis runs the other way. */
export const axisName = ([axis, sense]: readonly [number, number]): string =>
  (sense < 0 ? "\u2212" : "") + ("XYZ"[axis] ?? "");
