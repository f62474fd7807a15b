import { SECTIONS } from "./sections/index.ts";

/** The texts and bytes a page is made of, read by whoever may touch files. Keys are the names listed below. */
export interface ReportAssets {
  /** Name below `templates/` -> text. */
  readonly templates: Readonly<Record<string, string>>;
  /** Name below `templates/` -> text. */
  readonly styles: Readonly<Record<string, string>>;
  /** Name below the typeface's `files/` folder -> bytes of a woff2. */
  readonly fonts: Readonly<Record<string, Uint8Array>>;
}

export interface FontFile {
  readonly file: string;
  readonly weight: number;
  /** CSS `unicode-range` that the file serves. */
  readonly range: string;
  /** A page carries the file only when its text needs it. */
  readonly always: boolean;
}

/** Package that holds the typeface; its woff2 files lie in `files/`. */
export const FONT_PACKAGE = "@fontsource/source-sans-3";

const LATIN =
  "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,U+2212,U+2215,U+FFFD";
const LATIN_EXTENDED = "U+0100-0130,U+0132-0151,U+0154-02BA,U+1E00-1E9F,U+1EF2-1EFF";

export const FONTS: readonly FontFile[] = [
  { file: "source-sans-3-latin-400-normal.woff2", weight: 400, range: LATIN, always: true },
  { file: "source-sans-3-latin-600-normal.woff2", weight: 600, range: LATIN, always: true },
  { file: "source-sans-3-latin-ext-400-normal.woff2", weight: 400, range: LATIN_EXTENDED, always: false },
  { file: "source-sans-3-latin-ext-600-normal.woff2", weight: 600, range: LATIN_EXTENDED, always: false },
];

const SHARED_PARTIALS = ["quantity", "mark", "figure", "picture"] as const;

/** Every file a setup report needs. Styles are joined in this order. */
export const REPORT_FILES = {
  templates: [
    "setup-report.hbs",
    ...SHARED_PARTIALS.map((name) => `partials/${name}.hbs`),
    ...SECTIONS.map((section) => `partials/${section.name}.hbs`),
  ],
  styles: ["styles/base.css", "styles/report.css", "styles/evidence.css"],
  fonts: FONTS.map((font) => font.file),
} as const satisfies Record<string, readonly string[]>;
