import { describe, expect, it } from "vitest";
import type { DiskEntry } from "../../src/model/effects.ts";
import { Settling } from "../../src/runs/settling.ts";

const file = (name: string, size = 1, modifiedMs = 5): DiskEntry => ({
  name,
  kind: "file",
  size,
  modifiedMs,
});
const names = ({ ready }: { readonly ready: readonly DiskEntry[] }): string[] =>
  ready.map(({ name }) => name);

describe("a file is taken once size and time have rested a second", () => {
  it("counts from the first look that saw it so", () => {
    const settling = new Settling();
    expect(settling.look([file("a")], 0)).toEqual({ ready: [], waiting: 1 });
    expect(names(settling.look([file("a")], 999))).toEqual([]);
    expect(names(settling.look([file("a")], 1000))).toEqual(["a"]);
  });
  it("begins again when size or time change, and when it has been away", () => {
    const settling = new Settling();
    settling.look([file("a")], 0);
    settling.look([file("a", 2)], 900);
    expect(names(settling.look([file("a", 2)], 1500))).toEqual([]);
    settling.look([file("a", 2, 6)], 1800);
    expect(names(settling.look([file("a", 2, 6)], 2700))).toEqual([]);
    expect(names(settling.look([file("a", 2, 6)], 2800))).toEqual(["a"]);
    settling.look([], 2900);
    expect(names(settling.look([file("a", 2, 6)], 3900))).toEqual([]);
  });
  it("keeps what is ready for what still comes, but not for long", () => {
    const settling = new Settling();
    settling.look([file("a")], 0);
    for (const ticks of [1000, 2000, 3000])
      expect(settling.look([file("a"), file("b", ticks)], ticks)).toEqual({ ready: [], waiting: 2 });
    expect(names(settling.look([file("a"), file("b", 4000)], 4000))).toEqual(["a"]);
  });
});
