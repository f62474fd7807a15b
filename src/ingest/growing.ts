const FIRST = 16;
const GROWTH = 1.6;

/** A column of numbers that grows. Room that is not used yet costs no memory until it is written. */
export class Growing<Column extends Float64Array | Int32Array = Float64Array> {
  length = 0;
  readonly #make: (size: number) => Column;
  #values: Column;

  constructor(make: (size: number) => Column) {
    this.#make = make;
    this.#values = make(FIRST);
  }
  static numbers(): Growing {
    return new Growing((size) => new Float64Array(size));
  }
  static lines(): Growing<Int32Array> {
    return new Growing((size) => new Int32Array(size));
  }
  push(value: number): void {
    if (this.length === this.#values.length) this.#grow(Math.ceil(this.length * GROWTH));
    this.#values[this.length++] = value;
  }
  /** `count` numbers at once: what `each` makes of every `step`-th of `source` from `from` on, or those themselves. */
  pushEach(
    source: Float64Array,
    from: number,
    step: number,
    count: number,
    each: ((value: number) => number) | null,
  ): void {
    const values = this.#roomFor(count);
    let to = this.length;
    const end = to + count;
    if (each === null) for (let at = from; to < end; at += step) values[to++] = source[at]!;
    else for (let at = from; to < end; at += step) values[to++] = each(source[at]!);
    this.length = end;
  }
  /** `count` numbers at once: `first` and those that follow it one by one. */
  pushRun(first: number, count: number): void {
    const values = this.#roomFor(count);
    for (let i = 0; i < count; i++) values[this.length + i] = first + i;
    this.length += count;
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
  values(): Column {
    return this.#values.subarray(0, this.length) as Column;
  }
  #roomFor(count: number): Column {
    if (this.length + count > this.#values.length)
      this.#grow(Math.ceil(Math.max(this.length * GROWTH, this.length + count)));
    return this.#values;
  }
  #grow(size: number): void {
    const values = this.#make(size);
    values.set(this.#values);
    this.#values = values;
  }
}
