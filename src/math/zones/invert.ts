/** Inverse of the k x k matrix `a` (destroyed) into `out`, Gauss-Jordan with row exchange. False when singular. */
export function invert(a: Float64Array, out: Float64Array, k: number): boolean {
  out.fill(0);
  for (let i = 0; i < k; i++) out[i * k + i] = 1;
  for (let col = 0; col < k; col++) {
    let pivot = col;
    for (let r = col + 1; r < k; r++) {
      if (Math.abs(a[r * k + col]!) > Math.abs(a[pivot * k + col]!)) pivot = r;
    }
    const head = a[pivot * k + col]!;
    if (!(Math.abs(head) > 1e-300)) return false;
    for (let j = 0; j < k; j++) {
      const here = col * k + j;
      const there = pivot * k + j;
      const next = a[there]! / head;
      a[there] = a[here]!;
      a[here] = next;
      const nextOut = out[there]! / head;
      out[there] = out[here]!;
      out[here] = nextOut;
    }
    for (let r = 0; r < k; r++) {
      const factor = a[r * k + col]!;
      if (r === col || factor === 0) continue;
      for (let j = 0; j < k; j++) {
        a[r * k + j]! -= factor * a[col * k + j]!;
        out[r * k + j]! -= factor * out[col * k + j]!;
      }
    }
  }
  return true;
}

/** Inverse of a symmetric k x k matrix, or null unless it is positive definite (Cholesky's test). */
export function invertPositive(matrix: Float64Array, k: number): Float64Array | null {
  const lower = new Float64Array(k * k);
  for (let i = 0; i < k; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = matrix[i * k + j]!;
      for (let m = 0; m < j; m++) rest -= lower[i * k + m]! * lower[j * k + m]!;
      if (i === j && !(rest > 1e-12 * Math.abs(matrix[i * k + i]!))) return null;
      lower[i * k + j] = i === j ? Math.sqrt(rest) : rest / lower[j * k + j]!;
    }
  }
  const inverse = new Float64Array(k * k);
  return invert(matrix.slice(), inverse, k) ? inverse : null;
}
