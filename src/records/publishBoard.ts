import { join } from "node:path";
import { type Board, type BoardRow, ROWS_PER_PAGE } from "../model/board.ts";
import type { DurableEffects } from "../model/effects.ts";
import type { Language } from "../model/language.ts";
import { boardData, readBoardData, renderBoard } from "../report/renderBoard.ts";
import { loadAssets, shippedText } from "./assets.ts";
import { boardEntry, cellsOf, type ReportCells } from "./boardRow.ts";
import { allRecords, Entries } from "./entries.ts";
import { read, sha256Of } from "./readLogs.ts";

export interface BoardPlace {
  /** Folder of the reports: `index.html` and `board/` go there. */
  readonly reports: string;
  /** Folder of the job records; null where there is none. */
  readonly records: string | null;
  readonly shop: string | null;
  readonly timeZone: string | null;
  readonly language?: Language;
}
export interface PublishedBoard {
  readonly path: string;
  readonly reports: number;
  /** Files that were written; what has not changed is left alone. */
  readonly written: number;
  readonly unreadable: readonly string[];
}
const REPORT_FILE = /^([A-Za-z0-9_-][A-Za-z0-9._-]*_r[1-9]\d*)\.(json|html|pdf)$/;
const DIGESTS_SHOWN = 7;

/**
 * Writes the board of a folder of reports: one page, its script, and data in files of a thousand rows that a page opened from
 * disk can load. A report that an earlier board has read is not read again. Needs no ledger and no workspace.
 */
export async function publishBoard(effects: DurableEffects, place: BoardPlace): Promise<PublishedBoard> {
  const board = await boardOf(effects, place);
  const folder = join(place.reports, "board");
  const pages = chunks(board.rows, ROWS_PER_PAGE).map((rows, index) => ({
    file: `data-${String(index + 1).padStart(4, "0")}.js`,
    text: boardData(index, rows),
    count: rows.length,
  }));
  let written = 0;
  const put = async (path: string, text: string): Promise<void> => {
    if ((await effects.exists(path)) && sha256Of(await effects.readFile(path)) === sha256Of(text)) return;
    await effects.writeFile(path, text);
    written++;
  };
  for (const { file, text } of pages) await put(join(folder, file), text);
  const script = await shippedText("templates/board.js");
  await put(join(folder, "board.js"), script);
  const path = join(place.reports, "index.html");
  const html = renderBoard(board, {
    assets: await loadAssets(),
    template: await shippedText("templates/board.hbs"),
    style: await shippedText("templates/styles/board.css"),
    language: place.language ?? "en",
    script: `board/board.js?${sha256Of(script).slice(0, 8)}`,
    pages: pages.map(({ file, text, count }) => ({
      src: `board/${file}?${sha256Of(text).slice(0, 8)}`,
      count,
    })),
  });
  // The page last: what it names is there.
  await put(path, html);
  await removeSurplus(effects, folder, new Set(pages.map(({ file }) => file)));
  return { path, reports: board.rows.length, written, unreadable: board.unreadable };
}

/** What the board shows, oldest first. */
async function boardOf(effects: DurableEffects, place: BoardPlace): Promise<Board> {
  const names = (await effects.exists(place.reports)) ? await effects.disk.names(place.reports) : [];
  const pages = pagesOf(names);
  const known = await knownRows(effects, join(place.reports, "board"));
  const cells: ReportCells[] = [];
  const unreadable: string[] = [];
  for (const name of pages.keys()) {
    const row = await cellsFrom(effects, place.reports, name, known.get(name));
    if (row === null) unreadable.push(`${name}.json`);
    else if (row !== "gone") cells.push(row);
  }
  const records = place.records === null ? [] : await allRecords(effects, place.records);
  const entries = new Entries(records.flatMap((record) => record.entries));
  const folders = new Map(
    records.flatMap((record) =>
      [...record.entries.map(({ report }) => report), ...record.reports.map(({ id }) => id)].map(
        (id) => [id, record.folder] as const,
      ),
    ),
  );
  const when = clock(place.timeZone);
  const newest = newestRevisions(cells);
  const rows = cells.toSorted(byIssue).map(
    (row): BoardRow => ({
      ...row,
      when: when(row.issued),
      newer: (newest.get(row.id) ?? 0) > row.revision ? (newest.get(row.id) ?? 0) : 0,
      pages: pages.get(row.name) ?? [],
      record: folders.get(row.id) ?? "",
      entries: entries.of(row.id, row.revision).map(boardEntry),
    }),
  );
  return {
    shop: place.shop,
    zone: place.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    rows,
    digests: await digestDays(effects, place.reports),
    unreadable: unreadable.toSorted(),
  };
}

/** Report name -> endings of its pages; only names with a JSON. */
function pagesOf(names: readonly string[]): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const name of names.toSorted()) {
    const [, base = "", ending = ""] = REPORT_FILE.exec(name) ?? [];
    if (base !== "") found.set(base, [...(found.get(base) ?? []), ending]);
  }
  return new Map([...found].filter(([, endings]) => endings.includes("json")));
}

/** Cells as an earlier board has them while the file has the same size, else read from the report. */
async function cellsFrom(
  effects: DurableEffects,
  folder: string,
  name: string,
  known: BoardRow | undefined,
): Promise<ReportCells | "gone" | null> {
  const path = join(folder, `${name}.json`);
  const entry = await effects.disk.look(path);
  if (entry === null) return "gone";
  // A link may lead anywhere and a folder is no report.
  if (entry.kind !== "file") return null;
  if (known?.size === entry.size) {
    const { newer: _newer, when: _when, pages: _pages, record: _record, entries: _entries, ...cells } = known;
    return cells;
  }
  return cellsOf(new TextDecoder().decode(await read(effects, path)), name, entry.size);
}

async function knownRows(effects: DurableEffects, folder: string): Promise<Map<string, BoardRow>> {
  const rows = new Map<string, BoardRow>();
  for (const name of await dataFiles(effects, folder))
    for (const row of readBoardData(new TextDecoder().decode(await effects.readFile(join(folder, name)))))
      rows.set(row.name, row);
  return rows;
}
const dataFiles = async (effects: DurableEffects, folder: string): Promise<string[]> =>
  (await effects.exists(folder))
    ? (await effects.disk.names(folder)).filter((name) => /^data-\d{4,}\.js$/.test(name)).toSorted()
    : [];

async function removeSurplus(
  effects: DurableEffects,
  folder: string,
  wanted: ReadonlySet<string>,
): Promise<void> {
  for (const name of await dataFiles(effects, folder))
    if (!wanted.has(name)) await effects.disk.remove(join(folder, name));
}

async function digestDays(effects: DurableEffects, reports: string): Promise<string[]> {
  const folder = join(reports, "digests");
  if (!(await effects.exists(folder))) return [];
  const days = (await effects.disk.names(folder)).flatMap(
    (name) => /^(\d{4}-\d{2}-\d{2})\.html$/.exec(name)?.[1] ?? [],
  );
  return days.toSorted().reverse().slice(0, DIGESTS_SHOWN);
}

function newestRevisions(cells: readonly ReportCells[]): Map<string, number> {
  const newest = new Map<string, number>();
  for (const { id, revision } of cells) newest.set(id, Math.max(revision, newest.get(id) ?? 0));
  return newest;
}

function byIssue(a: ReportCells, b: ReportCells): number {
  const [one, other] = [Date.parse(a.issued), Date.parse(b.issued)];
  return one - other || a.revision - b.revision || (a.name < b.name ? -1 : 1);
}

/** Gives `YYYY-MM-DD HH:MM` of a moment in a zone. */
function clock(timeZone: string | null): (iso: string) => string {
  const format = new Intl.DateTimeFormat("en", {
    ...(timeZone !== null && { timeZone }),
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
  return (iso) => {
    const parts = Object.fromEntries(
      format.formatToParts(Date.parse(iso)).map(({ type, value }) => [type, value]),
    );
    return `${parts.year?.padStart(4, "0")}-${parts.month}-${parts.day} ${parts.hour}:${parts.minute}`;
  };
}

const chunks = <T>(all: readonly T[], size: number): T[][] =>
  Array.from({ length: Math.ceil(all.length / size) }, (_, i) => all.slice(i * size, (i + 1) * size));
