import type { Rounding } from "../model/decimals.ts";
import { knownRounding } from "../model/knownRounding.ts";
import { fill, type SayOptions, valueText } from "../model/say.ts";
import {
  halted,
  isOutdated,
  type ReportCharacteristic,
  type SetupReport,
  type Verdict,
} from "../model/setupReport.ts";
import { clipped, type Style, safe, table, wrap } from "./output.ts";

const WORDS: Readonly<Record<Verdict, string>> = {
  pass: "PASS",
  fail: "FAIL",
  undecided: "UNDECIDED",
  missing: "MISSING",
};

/** A report as a person reads it at the machine: verdict first, then what to do, then the table, then what was noticed. */
export function answer(report: SetupReport, style: Style): string {
  const units = {
    show: report.show,
    also: report.showAlso ?? null,
    decimal: ".",
    known: knownRounding(report),
  } as const;
  const say = sayer(report, units);
  const parts = [
    heading(report, style),
    moves(report, say, style),
    safe(characteristics(report, { units, say, style })),
    safe(signOffs(report, say, style.window)),
    safe(noticed(report, say, style.width)),
  ];
  return parts.filter((part) => part !== "").join("\n\n");
}

/** Says a sentence of the record in the unit of the terminal. */
type Sayer = (text: string) => string;
function sayer(report: SetupReport, options: SayOptions): Sayer {
  return (text) => {
    const wording = report.wording?.[text];
    return wording === undefined ? text : fill(wording.template, wording.values, options);
  };
}

/** The verdict and whose it is, on one line, with the counts below. */
export function heading(report: SetupReport, style: Style): string {
  const judged = Object.values(report.counts).reduce((sum, count) => sum + count, 0);
  const word = judged === 0 ? "NOTHING JUDGED" : WORDS[report.verdict];
  const { job, operation, machine, pallet } = report.setup;
  const place = Object.entries({ job, operation, machine, pallet }).map(
    ([key, value]) => value && `${key} ${clipped(value, 40)}`,
  );
  const counts = (["fail", "missing", "undecided", "pass"] as const)
    .filter((verdict) => report.counts[verdict] > 0)
    .map((verdict) => `${report.counts[verdict]} ${verdict}`);
  const lines = [`${style.inverse(` ${word} `)}  ${style.bold(report.plan.title)}`];
  lines.push(
    safe([counts.join(", ") || "no characteristic in the plan", ...place.filter(Boolean)].join("   ")),
  );
  if (halted(report)) lines.push(style.bold("But do not cut yet: see what to do next."));
  return lines.join("\n");
}

function moves(report: SetupReport, say: Sayer, style: Style): string {
  const card = report.card ?? [];
  if (card.length === 0) return "";
  const lines = card.map((line, i) => style.bold(wrap(`${i + 1}. ${say(line)}`, style.width, "   ")));
  // Where the card has no room for all of them, every headline stands here once.
  const shifted = report.advice.some(({ shifts }) => shifts === true);
  const more = report.advice
    .filter(({ headline }) => !card.some((line) => line.includes(headline)))
    .map(
      (one) =>
        (shifted && isOutdated(one) ? "measure again after these moves; now " : "") + say(one.headline),
    )
    .map((line) => safe(wrap(`- ${line}`, style.width, "  ")));
  const expected = report.advice.flatMap((advice) =>
    advice.expect === null ? [] : [safe(wrap(`${advice.kind}: ${say(advice.expect)}`, style.width, "   "))],
  );
  return ["DO NEXT", ...lines, ...more, ...(expected.length > 0 ? ["", "EXPECT", ...expected] : [])].join(
    "\n",
  );
}

interface Words {
  readonly units: SayOptions;
  readonly say: Sayer;
  readonly style: Style;
}
function characteristics(report: SetupReport, { units, say, style }: Words): string {
  if (report.characteristics.length === 0) return "";
  const order: readonly Verdict[] = ["fail", "missing", "undecided", "pass"];
  const sorted = [...report.characteristics].sort(
    (a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict),
  );
  const rows = sorted.map((entry) => [
    WORDS[entry.verdict],
    entry.id,
    shownValue(entry, units),
    entry.uncertainty === null ? "-" : number(entry, entry.uncertainty, units, { as: "uncertainty" }),
    limitText(entry, units),
    String(entry.points),
  ]);
  const head = [
    { title: "" },
    { title: "characteristic" },
    { title: "value", align: "right" as const },
    { title: "U", align: "right" as const },
    { title: "limit" },
    { title: "points", align: "right" as const },
  ];
  const reasons = [...reasonsByText(sorted, say)].map(([text, ids]) => {
    const [because = "", ...ways] = text.split("\n");
    return [
      wrap(`${ids.join(", ")}: ${because}`, style.width, "  "),
      ...ways.map((way) => wrap(`  to decide: ${way}`, style.width, "    ")),
    ].join("\n");
  });
  return [table(head, rows, style.window), ...(reasons.length > 0 ? ["", ...reasons] : [])].join("\n");
}

/** Why what did not pass did not, and what would decide it; who shares all of that stands together. */
function reasonsByText(entries: readonly ReportCharacteristic[], say: Sayer): Map<string, string[]> {
  const byText = new Map<string, string[]>();
  for (const { id, verdict, because, toDecide } of entries) {
    if (verdict === "pass") continue;
    const text = [because, ...toDecide].map(say).join("\n");
    byText.set(text, [...(byText.get(text) ?? []), id]);
  }
  return byText;
}

function number(
  { unit }: ReportCharacteristic,
  value: number,
  units: SayOptions,
  rounding: Rounding,
): string {
  return valueText(unit === "deg" ? { deg: value, ...rounding } : { mm: value, ...rounding }, units);
}
/** With the digits that its uncertainty allows and its limits ask for, as on the page. */
function shownValue(entry: ReportCharacteristic, units: SayOptions): string {
  const { value, uncertainty, limits } = entry;
  if (value === null) return "-";
  return number(entry, value, units, { uncertainty, beside: [limits.lower, limits.upper] });
}
function limitText(entry: ReportCharacteristic, units: SayOptions): string {
  const { lower, upper } = entry.limits;
  const limit = (value: number): string => number(entry, value, units, { as: "limit" });
  if (lower !== null && upper !== null) return `${limit(lower)} to ${limit(upper)}`;
  if (upper !== null) return `at most ${limit(upper)}`;
  return lower === null ? "none" : `at least ${limit(lower)}`;
}

function signOffs(report: SetupReport, say: Sayer, window: number): string {
  if (report.signOffs.length === 0) return "";
  const rows = report.signOffs.map((entry) => [
    WORDS[entry.verdict],
    entry.id,
    typeof entry.value === "number"
      ? plain(entry.value, entry.unit ?? "") +
        (entry.written === undefined ? "" : ` (${plain(entry.written.value, entry.written.unit)})`)
      : (entry.value ?? "-"),
    entry.by ?? "-",
    entry.verdict === "pass" ? "" : say(entry.because),
  ]);
  return table(
    [{ title: "" }, { title: "sign-off" }, { title: "value" }, { title: "by" }, { title: "" }],
    rows,
    window,
  );
}

const plain = (value: number, unit: string): string =>
  valueText({ value, unit }, { show: "mm", decimal: "." });

function noticed(report: SetupReport, say: Sayer, width: number): string {
  const levels = { error: "ERROR", warning: "WARNING", note: "note" } as const;
  const lines = report.findings.map((finding) => {
    const place = [finding.log, finding.line === undefined ? undefined : `line ${finding.line}`]
      .filter(Boolean)
      .join(" ");
    const hint = finding.hint === undefined ? "" : ` ${say(finding.hint)}`;
    return wrap(
      `${levels[finding.level]}  ${place === "" ? "" : `${place}: `}${say(finding.text)}${hint}`,
      width,
      "  ",
    );
  });
  return lines.length === 0 ? "" : ["NOTICED", ...lines].join("\n");
}
