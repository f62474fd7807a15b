import { describe, expect, it } from "vitest";
import { grid, planOf, touched } from "../setting.ts";
import { checked, contextOf } from "./checked.ts";

const planWith = (x: string) =>
  planOf(`machine: {travel: {x: ${x}}}
features: {face: {fit: plane, normal: [0, 0, 1]}}\n`);
/** x from -50 to 50. */
const face = (frame: "machine" | "work" | null, state: "as-left" | "as-found" = "as-left") =>
  touched(
    "face",
    grid(3, 50, () => 0),
    { frame, state },
  );
const found = (x: string, ...features: Parameters<typeof contextOf>[1]) =>
  checked("outside-travel", contextOf(planWith(x), features));

describe("travel", () => {
  it("outside in the machine's frame stops the feature and names the line", () => {
    expect(found("[-40 mm, 400 mm]", face("machine"))).toEqual([
      {
        finding: expect.objectContaining({ level: "warning", feature: "face", line: 10 }),
        undecides: ["face"],
      },
    ]);
  });
  it("outside in no stated frame is only a note, in the work's frame nothing", () => {
    const [note] = found("[-40 mm, 400 mm]", face(null));
    expect(note).toMatchObject({ finding: { level: "note" }, undecides: [] });
    expect(found("[-40 mm, 400 mm]", face("work"))).toEqual([]);
  });
  it.each(["machine", "work", null] as const)("wider than the travel stops in any frame (%s)", (frame) => {
    const [wide, ...more] = found("[0 mm, 99 mm]", face(frame));
    expect(wide?.undecides).toEqual(["face"]);
    expect(wide?.finding.text.text).toBe(
      "The touches of face spread over 100 mm along X; the machine travels 99 mm.",
    );
    expect(more).toEqual([]);
  });
  it("inside, up to the ends, raises nothing", () => {
    expect(found("[-50 mm, 50 mm]", face("machine"))).toEqual([]);
  });
  it("an as-found log outside does not stop what was measured soundly as left", () => {
    const far = touched(
      "face",
      grid(3, 50, () => 0).map(([x, y, z]): [number, number, number] => [x + 500, y, z]),
      { frame: "machine", state: "as-found" },
    );
    expect(found("[-50 mm, 50 mm]", far, face("machine")).map(({ undecides }) => undecides)).toEqual([[]]);
  });
});
