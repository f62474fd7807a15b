import { SIGNAL_WORDS, type TrendGroup } from "../../model/trend.ts";
import { Trouble } from "../../model/trouble.ts";
import { loadAssets, shippedText } from "../../records/assets.ts";
import { durableEffects } from "../../records/durableEffects.ts";
import { allRecords, Entries } from "../../records/entries.ts";
import { openLedger } from "../../records/ledger/openLedger.ts";
import { type GaugeUses, type TrendKey, trendOf, usesOfGauge } from "../../records/trend.ts";
import { openWorkspace } from "../../records/workspace.ts";
import { renderTrend, trendText } from "../../report/renderTrend.ts";
import { print, printStyle, safe, table, tell } from "../output.ts";

export interface TrendOptions {
  readonly by?: TrendKey | "instrument";
  readonly since?: string;
  readonly html?: string;
  readonly workspace?: string;
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth trend`: a value over time; `--by instrument`: every report that used a gauge. */
export async function trend(id: string | undefined, options: TrendOptions): Promise<void> {
  const { by, since, html } = options;
  if (since !== undefined && Number.isNaN(Date.parse(since)))
    throw new Trouble("usage", `--since ${since}: expected a date such as 2026-11-01.`);
  if (by === "instrument" && html !== undefined)
    throw new Trouble("usage", "--html draws values over time; a gauge's uses are a list: leave it out.");
  if (id === undefined && by !== "instrument")
    throw new Trouble(
      "usage",
      "trend: name a value, for example plinth trend rotation-center.x --by machine.",
    );
  const effects = durableEffects();
  const { paths, settings } = await openWorkspace(effects, options.workspace);
  const ledger = await openLedger(paths.ledger);
  try {
    const records = await allRecords(effects, paths.records);
    const entries = new Entries(records.flatMap((record) => record.entries));
    if (by === "instrument" || id === undefined) {
      const question = { instrument: id ?? null, since: since ?? null, entries };
      return showUses(await usesOfGauge(ledger.tables, question), options);
    }
    const groups = await trendOf(ledger.tables, { id, by: by ?? null, since: since ?? null, entries });
    if (groups.length === 0)
      throw new Trouble(
        "usage",
        `trend ${id}: no report in this workspace has such a value${since === undefined ? "" : ` since ${since}`}; name a characteristic, or FEATURE.x, rotation-center.x and the like.`,
      );
    const show = settings.show ?? "mm";
    if (html !== undefined) {
      const template = await shippedText("templates/trend.hbs");
      await effects.writeFile(
        html,
        renderTrend(id, groups, {
          assets: await loadAssets(),
          template,
          show,
          language: settings.language ?? "en",
        }),
      );
      if (!options.quiet) tell(safe(`Written: ${html}`));
    }
    if (options.json)
      print(
        JSON.stringify(
          groups.flatMap(({ points }) => points),
          null,
          1,
        ),
      );
    else if (html === undefined || !options.quiet)
      print(safe(groups.map((group) => textOf(group, show)).join("\n\n")));
  } finally {
    await ledger.close();
  }
}

const COLUMNS = [
  { title: "issued" },
  { title: "report" },
  { title: "value", align: "right" },
  { title: "change", align: "right" },
  { title: "" },
  { title: "" },
] as const;

function textOf({ name, unit, points, mean, lower, upper, signals }: TrendGroup, show: "mm" | "in"): string {
  const text = (value: number, signed = false): string =>
    trendText(value, unit, { show, decimal: "." }, { signed }).replace("\u2212", "-");
  const rows = points.map((point, i) => [
    point.issued,
    `${point.report} r${point.revision}`,
    text(point.value),
    i === 0 ? "" : text(point.value - (points[i - 1]?.value ?? 0), true),
    point.verdict ?? "",
    bar(
      point.value,
      points.map(({ value }) => value),
    ),
  ]);
  const limits =
    lower === null || upper === null
      ? "too few values for limits"
      : `limits of chance ${text(lower)} to ${text(upper)}`;
  const words = signals.map((signal) => `\n  ! ${SIGNAL_WORDS[signal]}`).join("");
  return `${name}\n${table(COLUMNS, rows, printStyle().window)}\nmean ${text(mean)}, ${limits}${words}`;
}

const BAR = 24;
/** Where the value lies between the smallest and largest of its trend. */
function bar(value: number, values: readonly number[]): string {
  const low = values.reduce((a, b) => Math.min(a, b));
  const high = values.reduce((a, b) => Math.max(a, b));
  const at = high > low ? Math.round(((value - low) / (high - low)) * (BAR - 1)) : Math.floor(BAR / 2);
  return `${"·".repeat(at)}o${"·".repeat(BAR - 1 - at)}`;
}

function showUses(found: readonly GaugeUses[], options: TrendOptions): void {
  if (options.json) print(JSON.stringify(found.flatMap(usesWithName), null, 1));
  else if (found.length === 0) print("No report in this workspace names an instrument.");
  else print(safe(found.map((one) => usesText(one, options)).join("\n\n")));
}
const usesWithName = ({ instrument, uses }: GaugeUses) => uses.map((use) => ({ instrument, ...use }));

function usesText({ instrument, uses, lastCheck, earlier }: GaugeUses, { since }: TrendOptions): string {
  const before =
    earlier === 0 ? "" : ` ${earlier} earlier ${earlier === 1 ? "use is" : "uses are"} left out.`;
  if (uses.length === 0)
    return `No report in this workspace names the instrument ${instrument}${since === undefined ? "" : ` since ${since}`}.${before}`;
  const start =
    since !== undefined
      ? `since ${since}`
      : lastCheck !== null
        ? `since its last check: its due date became ${lastCheck.calibrationDue} with ${lastCheck.report} of ${lastCheck.issued.slice(0, 10)}`
        : "of all time: its due date never changed (--since DAY starts at its last check)";
  const rows = uses.map((use) => [
    use.issued,
    `${use.report} r${use.revision}`,
    use.job ?? "-",
    use.void ? `${use.verdict}, void` : use.verdict,
    use.calibrationDue ?? "not stated",
  ]);
  const columns = ["issued", "report", "job", "verdict", "calibration due"].map((title) => ({ title }));
  const count = `${uses.length} ${uses.length === 1 ? "report" : "reports"}`;
  return `${instrument}: ${count} ${start}.${before}\n${table(columns, rows, printStyle().window)}`;
}
