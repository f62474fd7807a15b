import { valueText } from "../../model/say.ts";
import { Trouble } from "../../model/trouble.ts";
import { durableEffects } from "../../records/durableEffects.ts";
import { openLedger } from "../../records/ledger/openLedger.ts";
import { type GaugeUse, type TrendKey, type TrendPoint, trendOf, usesOfGauge } from "../../records/trend.ts";
import { openWorkspace } from "../../records/workspace.ts";
import { print, safe, table } from "../output.ts";

export interface TrendOptions {
  readonly by?: TrendKey | "instrument";
  readonly since?: string;
  readonly workspace?: string;
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth trend`: a value over time; `--by instrument`: every report that used a gauge. */
export async function trend(id: string, options: TrendOptions): Promise<void> {
  const { since } = options;
  if (since !== undefined && Number.isNaN(Date.parse(since)))
    throw new Trouble("usage", `--since ${since}: expected a date such as 2026-11-01.`);
  const effects = durableEffects();
  const { paths, settings } = await openWorkspace(effects, options.workspace);
  const ledger = await openLedger(paths.ledger);
  try {
    if (options.by === "instrument")
      return showUses(id, await usesOfGauge(ledger.tables, id, since ?? null), options);
    const points = (await trendOf(ledger.tables, id, options.by ?? null)).filter(
      (point) => since === undefined || point.issued >= since,
    );
    if (points.length === 0)
      throw new Trouble(
        "usage",
        `trend ${id}: no report in this workspace has such a value; name a characteristic, or FEATURE.x, rotation-center.x and the like.`,
      );
    if (options.json) print(JSON.stringify(points, null, 1));
    else print(safe(trendText(points, settings.show ?? "mm")));
  } finally {
    await ledger.close();
  }
}

function trendText(points: readonly TrendPoint[], show: "mm" | "in"): string {
  const groups = grouped(points);
  return [...groups]
    .map(([key, own]) => {
      const rows = own.map((point, i) => [
        point.issued,
        `${point.report} r${point.revision}`,
        shown(point, point.value, show),
        i === 0 ? "" : shown(point, point.value - (own[i - 1]?.value ?? 0), show, true),
        point.verdict ?? "",
        bar(point.value, own),
      ]);
      return `${key}\n${table([{ title: "issued" }, { title: "report" }, { title: "value", align: "right" }, { title: "change", align: "right" }, { title: "" }, { title: "" }], rows)}`;
    })
    .join("\n\n");
}
const keyOf = ({ of, quantity, group }: TrendPoint): string =>
  `${of} ${quantity}${group === null ? "" : `, ${group}`}`;
function grouped(points: readonly TrendPoint[]): Map<string, TrendPoint[]> {
  const groups = new Map<string, TrendPoint[]>();
  for (const point of points) groups.set(keyOf(point), [...(groups.get(keyOf(point)) ?? []), point]);
  return groups;
}
function shown({ unit }: TrendPoint, value: number, show: "mm" | "in", signed = false): string {
  const options = { show, decimal: "." } as const;
  if (unit === "mm") return valueText({ mm: value, signed }, options);
  if (unit === "deg") return valueText({ deg: value, signed }, options);
  return valueText({ value, unit, digits: 7 }, options);
}

const BAR = 24;
/** Where the value lies between the smallest and largest of its trend. */
function bar(value: number, own: readonly TrendPoint[]): string {
  const values = own.map((point) => point.value);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const at = high > low ? Math.round(((value - low) / (high - low)) * (BAR - 1)) : Math.floor(BAR / 2);
  return `${"·".repeat(at)}o${"·".repeat(BAR - 1 - at)}`;
}

function showUses(instrument: string, uses: readonly GaugeUse[], options: TrendOptions): void {
  if (options.json) print(JSON.stringify(uses, null, 1));
  else print(safe(uses.length === 0 ? noUses(instrument, options) : usesText(uses)));
}
const noUses = (instrument: string, { since }: TrendOptions): string =>
  `No report in this workspace names the instrument ${instrument}${since === undefined ? "" : ` since ${since}`}.`;
const usesText = (uses: readonly GaugeUse[]): string =>
  table(
    [
      { title: "issued" },
      { title: "report" },
      { title: "job" },
      { title: "verdict" },
      { title: "calibration due" },
    ],
    uses.map((use) => [
      use.issued,
      `${use.report} r${use.revision}`,
      use.job ?? "-",
      use.verdict,
      use.calibrationDue ?? "not stated",
    ]),
  );
