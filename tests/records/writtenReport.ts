import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { makeReports } from "../../src/records/makeReports.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { reportJson } from "../../src/records/reportStore.ts";

const PLAN = `plinth: 1\nname: seat\ntitle: Seat\ndecision: {rule: simple}\nfeatures: {face: {fit: plane}}\ncharacteristics:\n  - {id: flat, kind: flatness, of: face, max: 0.01 mm}\n`;

export interface WrittenReport {
  /** Name of the file without revision and ending. */
  readonly name: string;
  /** Of the middle point, in mm: above 0.01 the report fails. */
  readonly height: number;
  readonly revision: number;
  readonly header?: Readonly<Record<string, string>>;
  readonly issued?: string;
}
/** A real report of nine touches as JSON with a page beside it; gives the path of the JSON. */
export function writtenReport(folder: string, asked: WrittenReport): string {
  const { name, height, revision, issued = "2026-11-25T07:00:00Z" } = asked;
  const rows = [-50, 0, 50].flatMap((x) =>
    [-50, 0, 50].map((y) => `face,${x},${y},${x === 0 && y === 0 ? height : 0}`),
  );
  const keys = { job: "K-1", operation: "10", unit: "mm", points: "surface", ...asked.header };
  const header = Object.entries(keys)
    .filter(([, value]) => value !== "")
    .map(([key, value]) => `# ${key}: ${value}\n`);
  const text = `${header.join("")}feature,x,y,z\n${rows.join("\n")}\n`;
  const { reports } = makeReports(
    [{ name: "a.csv", bytes: new TextEncoder().encode(text), sha256: sha256Of(text) }],
    { plan: planFromText({ text: PLAN, name: "seat.yaml", sha256: sha256Of(PLAN) }), issued },
  );
  const [made] = reports;
  if (made === undefined) throw new Error("no report");
  const replaces = revision > 1 ? revision - 1 : null;
  const base = join(folder, `${name}_r${revision}`);
  writeFileSync(`${base}.json`, reportJson({ ...made, report: { ...made.report, revision, replaces } }));
  writeFileSync(`${base}.html`, `<p>${name}</p>`);
  return `${base}.json`;
}
