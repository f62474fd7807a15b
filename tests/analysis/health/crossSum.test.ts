import { describe, expect, it } from "vitest";
import { planOf, rimSweep, swept } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const planFor = (surface: "bore" | "boss") =>
  planOf(`instruments: {probe: {uncertainty: 0.001 mm}}
features:
  rim: {fit: circle, from: rim-sweep, radius: 50 mm, surface: ${surface}}
  face: {fit: plane, from: face-sweep, radius: 50 mm, normal: [0, 0, 1]}\n`);
const RADIUS = 50;
const ANGLES = [0, Math.PI / 2, Math.PI, (3 * Math.PI) / 2];

/** Readings of a true round of radius R whose centre lies off the sweep's axis: where the ray at an angle meets the circle. */
function offCentre(surface: "bore" | "boss", [p, q]: readonly [number, number]): number[] {
  return ANGLES.map((angle) => {
    const along = p * Math.cos(angle) + q * Math.sin(angle);
    const across = -p * Math.sin(angle) + q * Math.cos(angle);
    const reach = along + Math.sqrt(RADIUS ** 2 - across ** 2);
    return surface === "boss" ? reach - RADIUS : RADIUS - reach;
  });
}
const rim = (surface: "bore" | "boss", readings: readonly number[]) =>
  checked(
    "cross-sum",
    contextOf(planFor(surface), [rimSweep("rim", readings, { radius: RADIUS, bore: surface === "bore" })]),
  );
const sum = ([a = 0, b = 0, c = 0, d = 0]: readonly number[]) => a + c - b - d;

describe("cross sum", () => {
  it.each(["bore", "boss"] as const)("a round %s far off its centre is no oval", (surface) => {
    const readings = offCentre(surface, [0.6, 0.1]);
    // By itself the sum is out: 0.35 / 50 = 0.007 against 0.004.
    expect(Math.abs(sum(readings))).toBeCloseTo(0.35 / RADIUS, 6);
    expect(rim(surface, readings)).toEqual([]);
  });
  it.each(["bore", "boss"] as const)("an oval %s off its centre still is", (surface) => {
    const readings = offCentre(surface, [0.6, 0.1]).map((reading, i) => reading + (i % 2 === 0 ? 0.006 : 0));
    expect(rim(surface, readings).map(({ undecides }) => undecides)).toEqual([["rim"]]);
  });
  it("a tilted flat face closes however far it tilts; a chip under one reading does not", () => {
    const tilted = ANGLES.map((angle) => 0.4 * Math.cos(angle) - 0.2 * Math.sin(angle));
    const facing = (readings: readonly number[]) =>
      checked(
        "cross-sum",
        contextOf(planFor("boss"), [
          swept(
            "face",
            "face-sweep",
            ANGLES.map((angle, i): [number, number, number] => [
              RADIUS * Math.cos(angle),
              RADIUS * Math.sin(angle),
              readings[i]!,
            ]),
            readings,
            { station: ANGLES, radius: RADIUS },
          ),
        ]),
      );
    expect(facing(tilted)).toEqual([]);
    const [chip] = facing(tilted.map((reading, i) => reading + (i === 2 ? 0.005 : 0)));
    expect(chip?.finding.text.values.difference).toMatchObject({ mm: expect.closeTo(0.005, 9) });
  });
  it("the order in which the four were read does not matter, four unevenly spread ones are left alone", () => {
    const stations = [ANGLES[2]!, ANGLES[0]!, ANGLES[3]!, ANGLES[1]!];
    const at = (station: readonly number[], readings: readonly number[]) =>
      checked(
        "cross-sum",
        contextOf(planFor("boss"), [
          swept(
            "rim",
            "rim-sweep",
            station.map((angle, i): [number, number, number] => [
              (RADIUS + readings[i]!) * Math.cos(angle),
              (RADIUS + readings[i]!) * Math.sin(angle),
              0,
            ]),
            readings,
            { station, radius: RADIUS },
          ),
        ]),
      );
    expect(at(stations, [0.01, 0.01, 0, 0])).toHaveLength(1);
    expect(at([0, 1, 2, 4], [0.01, 0, 0.01, 0])).toEqual([]);
  });
});
