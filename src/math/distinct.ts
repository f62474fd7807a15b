/** The different values of columns, rising; zero and minus zero are one, and values that are no numbers are left out. */
export function distinct(columns: readonly Float64Array[]): Float64Array {
  let values = new Float64Array(1024).fill(Number.NaN);
  let count = 0;
  const bits = new Float64Array(1);
  const words = new Uint32Array(bits.buffer);
  const slotOf = (table: Float64Array, value: number): number => {
    bits[0] = value;
    let slot =
      (Math.imul(words[0]! ^ Math.imul(words[1]!, 0x85ebca6b), 0x9e3779b1) >>> 8) & (table.length - 1);
    while (!Number.isNaN(table[slot]!) && table[slot] !== value) slot = (slot + 1) & (table.length - 1);
    return slot;
  };
  for (const column of columns)
    for (let i = 0; i < column.length; i++) {
      // Adding zero makes zero of minus zero.
      const value = column[i]! + 0;
      if (Number.isNaN(value)) continue;
      const slot = slotOf(values, value);
      if (values[slot] === value) continue;
      values[slot] = value;
      if (++count * 2 <= values.length) continue;
      const larger = new Float64Array(4 * values.length).fill(Number.NaN);
      for (const known of values) if (!Number.isNaN(known)) larger[slotOf(larger, known)] = known;
      values = larger;
    }
  return values.filter((value) => !Number.isNaN(value)).sort();
}
