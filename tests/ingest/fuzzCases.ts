// Damaged logs: every fixture with bytes changed, cut, doubled or shuffled. Shared by the suite and by `npm run fuzz`.
import { understandLog } from "../../src/ingest/understandLog.ts";
import { seededNoise } from "../../src/math/seededNoise.ts";
import type { WholeLog } from "../../src/model/measurement.ts";
import { sampleLogs } from "../golden/sampleLogs.ts";

const UGLY = [
  "%\rO0815 (FACE B0)\rX   2.7000 Y   0.0000 Z   0.2702\rX   0.0000 Y   2.7000 Z   0.2426\rX-  1.9092 Y   1.9092 Z****.****\r%\r",
  "\ufeffPunkt;X [mm];Y [mm];Z [mm];Zeit\n1;68,580;0,000;6,863;03.04.25 07:12:09\n2;0,000;68,580;6,162;03.04.25 07:12:15\n3;-68,58",
  "# unit: in\nFACE B90,,,\nangle,reading\n0,.0006\n90,.0002\n180,-.0004\n270,0\n0,.0006\n",
  '0.0000\n0.0012"\n-0.0004\noops\n-.0003\n',
  "pt=1 x=-12.5178 z=-15.7411 b=0 tip=center unit=in\nb=90 pt=2 z=-22.9832 x=-8.2406 unit=in tip=center\n",
  '# unit: mm\nfeature,x,y,z,note\n"f",1,2,3,"a\nb"\nf,2,"3",3,"x, ""y"""\n',
  "# unit: mm\n# points: surface\nfeature,x,y,z\nf,1,2,3\nf,\u22125,1,3\nf,9999.9999,0,0\nf,1e3,2.,.5\n",
];
const FIXTURES: readonly Uint8Array[] = [...UGLY, ...Object.values(sampleLogs())].map((text) =>
  new TextEncoder().encode(text.slice(0, 4000)),
);
/** Bytes that mean something somewhere in a log. */
const MEANT = [..."0123456789.,;:-+#\n\r\t \"'eEOxyzNa\u0000", "\u00b5", "\u2212", "\u00a0"].flatMap(
  (char) => [...new TextEncoder().encode(char)],
);

/** The damaged log number `seed`; the same number gives the same log. */
export function damagedLog(seed: number): WholeLog {
  const noise = seededNoise(seed);
  let bytes = Array.from(FIXTURES[noise.below(FIXTURES.length)] ?? []);
  const hits = 1 + noise.below(6);
  for (let i = 0; i < hits && bytes.length > 0; i++) {
    const at = noise.below(bytes.length);
    const kind = noise.below(7);
    if (kind === 0) bytes[at] = noise.below(256);
    else if (kind === 1) bytes[at] = MEANT[noise.below(MEANT.length)] ?? 0;
    else if (kind === 2) bytes.splice(at, 1 + noise.below(4));
    else if (kind === 3) bytes.splice(at, 0, MEANT[noise.below(MEANT.length)] ?? 0);
    else if (kind === 4) bytes = bytes.slice(0, at);
    else if (kind === 5) bytes.splice(at, 0, ...bytes.slice(at, at + noise.below(60)));
    else bytes.splice(at, noise.below(40), ...bytes.slice(0, noise.below(40)));
  }
  return { name: "damaged.csv", bytes: Uint8Array.from(bytes), sha256: String(seed).padStart(64, "0") };
}

/** Digits as a point, a comma or groups of thousands may be read. */
const NUMBERS = [
  /(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/gu,
  /(?:\d+,?\d*|,\d+)(?:[eE][+-]?\d+)?/gu,
  /\d{1,3}(?:[.,'\u2019\u00a0\u202f\u2009]\d{3})+(?:[.,]\d+)?/gu,
  /\d{1,3}(?:[\u00a0\u202f\u2009]\d{3})+/gu,
];

/** What must hold for any bytes: an answer, no silent unit, and no coordinate that the text does not hold. Empty when it does. */
export function trespass(file: WholeLog): string {
  const log = understandLog(file, null);
  if (!log.ok)
    return log.finding.text.text.length > 10 && !log.finding.text.text.includes("undefined")
      ? ""
      : "a refusal without a sentence";
  const decided = log.record.decisions.map((entry) => entry.what);
  if (log.features.length > 0 && !decided.some((what) => what.startsWith("unit")))
    return "lengths without a decision on their unit";
  const held = numbersIn(file.bytes);
  for (const feature of log.features) {
    // A touch is as the text says it; sweeps turn readings into points, so their readings count.
    const columns =
      feature.sweep === undefined
        ? [feature.readings.x, feature.readings.y, feature.readings.z]
        : [feature.sweep.reading];
    for (const column of columns)
      for (const value of column) {
        if (!Number.isFinite(value)) return "a number that is none";
        if (value !== 0 && !held.has(Math.abs(value))) return `${value} mm does not stand in the text`;
      }
  }
  return "";
}

/** Sizes in mm that digits of the text can mean: in mm, inch and micrometre, with either decimal mark. */
function numbersIn(bytes: Uint8Array): Set<number> {
  const sizes = new Set<number>();
  for (const encoding of ["utf-8", "latin1", "utf-16le", "utf-16be"])
    for (const pattern of NUMBERS)
      for (const [digits] of new TextDecoder(encoding).decode(bytes).matchAll(pattern)) {
        const bare = digits.replace(/[\u00a0\u202f\u2009'\u2019]/gu, "");
        for (const text of [bare, bare.replaceAll(",", ""), bare.replaceAll(".", "").replace(",", ".")]) {
          const value = Number(text);
          if (Number.isFinite(value)) for (const size of sizesOf(value)) sizes.add(size);
        }
      }
  return sizes;
}

/** mm, inch, micrometre, cm, m, thou, tenth, foot, nanometre. */
const sizesOf = (value: number): number[] => [
  value,
  value * 25.4,
  value / 1000,
  value * 10,
  value * 1000,
  (value * 25.4) / 1000,
  (value * 25.4) / 10_000,
  value * 304.8,
  value / 1_000_000,
];
