// A drafted mapping, confirmed and pasted into a plan, reads the foreign log it was drafted for.
import { describe, expect, it } from "vitest";
import { draftMapping } from "../../src/ingest/draftMapping.ts";
import { understandLog } from "../../src/ingest/understandLog.ts";
import type { LogFile } from "../../src/model/measurement.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";

const file = (text: string): LogFile => ({
  name: "foreign.csv",
  bytes: new TextEncoder().encode(text),
  sha256: sha256Of(text),
});
function drafted(text: string): string {
  const draft = draftMapping(file(text));
  if ("sentence" in draft) throw new Error(draft.sentence);
  return draft.yaml;
}
function readWith(text: string, mapping: string, features: string) {
  const plan = planFromText({
    text: `plinth: 1\nname: d\ntitle: D\ndecision: {rule: simple}\n${mapping}features:\n${features}`,
    name: "d.yaml",
    sha256: "0".repeat(64),
  });
  const log = understandLog(file(text), plan);
  if (!log.ok) throw new Error(log.finding.text.text);
  return log;
}

describe("a drafted mapping", () => {
  it("of German columns with decimal commas below a title", () => {
    const text =
      "Protokoll 4711;;;;\nMaschine drei;;;;\nPunkt;X-Ist [mm];Y-Ist [mm];Z-Ist [mm];Merkmal\n1;1,5;2,25;3,125;face\n2;1,75;2,5;3,5;face\n3;9,5;2,1;3,2;face\n";
    const draft = drafted(text);
    expect(draft).toContain("decimal: comma # 1,5 can be read in no other way");
    expect(draft).toContain('x: "X-Ist [mm]" # column 2; 3 of 3 rows hold a number there');
    const { features } = readWith(
      text,
      draft.replace(/points: #.*/, "points: surface"),
      "  face: {fit: plane}\n",
    );
    expect(features[0]?.name).toBe("face");
    expect(Array.from(features[0]?.readings.z ?? [])).toEqual([3.125, 3.5, 3.2]);
  });
  it("of an indicator's table asks for unit and sign", () => {
    const text = "Weg\tMesswert\tMessung\n0\t0.000\tlean\n50\t0.004\tlean\n100\t0.009\tlean\n";
    const draft = drafted(text);
    expect(draft).toMatch(/unit: # mm or in\?/);
    expect(draft).toMatch(/sign: # toward-plus or toward-minus\?/);
    const answered = draft.replace(/unit: #.*/, "unit: mm").replace(/sign: #.*/, "sign: toward-plus");
    const { features } = readWith(
      text,
      answered,
      "  lean: {fit: line, from: traverse, along: y, height: z}\n",
    );
    expect(Array.from(features[0]?.readings.y ?? [])).toEqual([0, 50, 100]);
  });
  it("of touches takes a column of names for the features, and names what it does not use", () => {
    const draft = drafted("Messung;X-Ist;Y-Ist;Z-Ist;Typ\nF1;1,5;2,25;3,125;touch\nF2;1,75;2,5;3,5;touch\n");
    expect(draft).toContain('feature: "Messung" # column 1; by its name');
    expect(draft).not.toContain("sweep:");
    expect(draft).toContain('# "Typ" is not used');
  });
  it("leaves a question open rather than choosing", () => {
    expect(drafted("feature;x;y;z\nf;1,234;2,345;3,456\nf;4,234;2,345;3,456\n")).toMatch(
      /decimal: # comma or point\?/,
    );
  });
  it("of a log without columns says what is needed instead", () => {
    expect(draftMapping(file("0.0000\n0.0012\n"))).toMatchObject({
      sentence: expect.stringContaining("logs.order"),
    });
  });
});
