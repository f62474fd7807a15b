import Handlebars from "handlebars";
import { BOARD_SCHEMA, type Board, type BoardRow } from "../model/board.ts";
import { type EntryKind, SETUP_KEYS } from "../model/entry.ts";
import type { Language } from "../model/language.ts";
import { fill } from "../model/say.ts";
import type { ReportAssets } from "./assets.ts";
import { cleanText } from "./cleanText.ts";
import { fontFaces } from "./fontFaces.ts";
import { TEXTS } from "./texts/index.ts";

export interface BoardOptions {
  readonly assets: ReportAssets;
  /** Text of `board.hbs`. */
  readonly template: string;
  /** Text of `board.css`. */
  readonly style: string;
  /** Address of the script, relative to the page. */
  readonly script: string;
  /** Language of the page; English where none is said. */
  readonly language?: Language;
  /** Addresses of the data files, oldest rows first. */
  readonly pages: readonly { readonly src: string; readonly count: number }[];
}

/** Only files beside the page may run or be loaded; a page opened from disk has `file:` as its origin. */
const POLICY =
  "default-src 'none'; script-src 'self' file:; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'";
const WITHOUT_SCRIPT = 50;
const PLAIN = { show: "mm", decimal: "." } as const;

/** The columns of a data file, in this order. */
const COLUMNS = [
  "name",
  "size",
  "id",
  "revision",
  "newer",
  "issued",
  "when",
  "verdict",
  "pass",
  "fail",
  "undecided",
  "missing",
  "title",
  "plan",
  ...SETUP_KEYS,
  "used",
  "tightest",
  "pages",
  "record",
  "entries",
] as const satisfies readonly (keyof BoardRow)[];
const OPEN = "plinthPage(";
const CLOSE = ");\n";

/** A data file: a call that hands rows to the board's script, since a page opened from disk may load scripts only. */
export function boardData(index: number, rows: readonly BoardRow[]): string {
  const data = {
    schema: BOARD_SCHEMA,
    index,
    columns: COLUMNS,
    rows: rows.map((row) => COLUMNS.map((column) => cleaned(row[column]))),
  };
  return OPEN + inScript(data) + CLOSE;
}

/** The rows of a data file; none for a file of another version or one that was changed. */
export function readBoardData(text: string): BoardRow[] {
  if (!text.startsWith(OPEN) || !text.endsWith(CLOSE)) return [];
  try {
    const data = JSON.parse(text.slice(OPEN.length, -CLOSE.length)) as {
      schema?: string;
      columns?: readonly string[];
      rows: readonly (readonly unknown[])[];
    };
    if (data.schema !== BOARD_SCHEMA || JSON.stringify(data.columns) !== JSON.stringify(COLUMNS)) return [];
    return data.rows.map(
      (row) => Object.fromEntries(COLUMNS.map((column, i) => [column, row[i]])) as unknown as BoardRow,
    );
  } catch {
    return [];
  }
}

/** The board as one HTML page that loads its rows from the data files. Same board and options, same text. */
export function renderBoard(board: Board, options: BoardOptions): string {
  const shop = cleanText(board.shop ?? "");
  const texts = TEXTS[options.language ?? "en"];
  const { board: t, script, entryKinds } = texts.shop;
  const facts = {
    pages: options.pages,
    total: board.rows.length,
    words: texts.verdicts,
    script,
    entryKinds,
    decisions: texts.entries.decisions,
    labels: { job: t.job, places: t.places, issued: t.issued, used: t.used, files: t.files },
    machines: distinct(board.rows, "machine"),
    pallets: distinct(board.rows, "pallet"),
    fixtures: distinct(board.rows, "fixture"),
  };
  const style = [
    fontFaces(
      options.assets.fonts,
      `${shop}${JSON.stringify([texts.shop, board.rows.slice(-WITHOUT_SCRIPT)])}`,
    ),
    options.assets.styles["styles/base.css"] ?? "",
    options.style,
  ].join("\n");
  const view = {
    policy: POLICY,
    style,
    script: options.script,
    shop,
    language: texts.language,
    t,
    zone: fill(t.zone, { zone: board.zone }, PLAIN),
    facts: inScript(facts),
    total: fill(t.total, { total: board.rows.length }, PLAIN),
    digests: board.digests,
    unreadable: board.unreadable.map(cleanText),
    verdicts: (["fail", "missing", "undecided", "pass"] as const).map((verdict) => ({
      verdict,
      word: texts.verdicts[verdict],
    })),
    newest: board.rows
      .slice(-WITHOUT_SCRIPT)
      .reverse()
      .map(({ name, id, revision, title, verdict, when, entries }) => ({
        link: `${encodeURIComponent(name)}.html`,
        text: cleanText(
          [
            `${when}  ${id} r${revision}  ${title}`,
            ...entries.map(({ kind }) => `[${entryKinds[kind as EntryKind]}]`),
          ].join("  "),
        ),
        word: texts.verdicts[verdict],
      })),
  };
  return Handlebars.create().compile(options.template, {
    strict: true,
    knownHelpersOnly: true,
    preventIndent: true,
  })(view);
}

function distinct(rows: readonly BoardRow[], key: "machine" | "pallet" | "fixture"): string[] {
  const values = rows.flatMap((row) => [
    row[key],
    ...row.entries.map(({ corrected }) => corrected[key] ?? ""),
  ]);
  return [...new Set(values.map(cleanText))].filter((value) => value !== "").toSorted();
}

/** JSON that can stand in a script: no markup, no line ends of its own. */
const inScript = (value: unknown): string =>
  JSON.stringify(value)
    .replaceAll("<", "\\u003c")
    .replaceAll("\u2028", "\\u2028")
    .replaceAll("\u2029", "\\u2029");

function cleaned(value: unknown): unknown {
  if (typeof value === "string") return cleanText(value);
  if (Array.isArray(value)) return value.map(cleaned);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, cleaned(inner)]));
}
