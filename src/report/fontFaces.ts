import { FONTS, type ReportAssets } from "./assets.ts";

const faces = new WeakMap<ReportAssets["fonts"], Map<string, string>>();
/** Letters beyond western Europe, which a second file of the typeface holds. */
const EXTENDED = /[\u0100-\u0130\u0132-\u0151\u0154-\u02ba\u1e00-\u1e9f\u1ef2-\u1eff]/u;

/** `@font-face` rules with the faces inside, those that `text` needs. Throws RangeError when a file was not handed in. */
export function fontFaces(fonts: ReportAssets["fonts"], text: string): string {
  const extended = EXTENDED.test(text);
  return FONTS.filter((font) => font.always || extended)
    .map(
      (font) =>
        `@font-face{font-family:"Plinth Sans";font-weight:${font.weight};font-style:normal;font-display:block;` +
        `src:url(data:font/woff2;base64,${base64(fonts, font.file)}) format("woff2");unicode-range:${font.range}}`,
    )
    .join("\n");
}

/** Written once for each set of fonts: a run of many reports asks for the same bytes again and again. */
function base64(fonts: ReportAssets["fonts"], file: string): string {
  const known = faces.get(fonts) ?? new Map<string, string>();
  faces.set(fonts, known);
  const written = known.get(file);
  if (written !== undefined) return written;
  const bytes = fonts[file];
  if (bytes === undefined) throw new RangeError(`the font ${file} was not handed in`);
  const text = Buffer.from(bytes).toString("base64");
  known.set(file, text);
  return text;
}
