const FIRST = 16;
const GROWTH = 1.6;

/** A column of numbers that grows. Room that is not used yet costs no memory until it is written. */
export class Growing {
  length = 0;
  #values = new Float64Array(FIRST);

  push(value: number): void {
    if (this.length === this.#values.length) this.#grow(Math.ceil(this.length * GROWTH));
    this.#values[this.length++] = value;
  }
  /** Makes room for `count` numbers more. */
  expect(count: number): void {
    if (this.length + count > this.#values.length) this.#grow(this.length + count);
  }
  /** Numbers of one value until there are `count`. */
  fill(value: number, count: number): void {
    while (this.length < count) this.push(value);
  }
  at(index: number): number {
    return index < this.length ? (this.#values[index] ?? Number.NaN) : Number.NaN;
  }
  /** What has been pushed, without a copy. */
  values(): Float64Array {
    return this.#values.subarray(0, this.length);
  }
  #grow(size: number): void {
    const values = new Float64Array(size);
    values.set(this.#values);
    this.#values = values;
  }
}
