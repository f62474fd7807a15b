/**
 * Words with numbers in them. The pipeline writes each sentence once, in English, as a template with
 * named values; the values keep their kind (a length, an angle, a slope), so that a page can say the same
 * sentence in another unit or language without computing anything again.
 */
export type SaidValue =
  | string
  | number
  | { readonly mm: number; readonly signed?: boolean; readonly digits?: number }
  | { readonly deg: number; readonly signed?: boolean; readonly digits?: number }
  /** Rise per length, as mm per mm. */
  | { readonly slope: number; readonly signed?: boolean }
  /** A value in a unit that has no second system, such as N·m or a count with its noun. */
  | { readonly value: number; readonly unit: string; readonly digits?: number }
  /** A fraction of one, shown in percent. */
  | { readonly share: number };

export interface Said {
  /** The sentence in English with lengths in mm and angles in degrees. */
  readonly text: string;
  readonly template: string;
  readonly values: Readonly<Record<string, SaidValue>>;
}

/** How values become text: the page chooses, the default is what the JSON record carries. */
export interface SayOptions {
  readonly show: "mm" | "in";
  readonly decimal: "." | ",";
}
export const RECORD_WORDING: SayOptions = { show: "mm", decimal: "." };
const MM_PER_INCH = 25.4;

/** `template` with `{name}` replaced by its value. Throws RangeError for a name without a value: that is our bug. */
export function say(template: string, values: Readonly<Record<string, SaidValue>> = {}): Said {
  return { text: fill(template, values, RECORD_WORDING), template, values };
}

/** The template filled in for a page: its unit, its decimal mark. Throws RangeError as `say` does. */
export function fill(
  template: string,
  values: Readonly<Record<string, SaidValue>>,
  options: SayOptions,
): string {
  return template.replace(/\{([a-zA-Z0-9]+)\}/g, (_, name: string) => {
    const value = values[name];
    if (value === undefined) throw new RangeError(`the sentence "${template}" has no value ${name}`);
    return valueText(value, options);
  });
}

/** One value as text with its unit. */
export function valueText(value: SaidValue, options: SayOptions): string {
  if (typeof value === "string") return value;
  if (typeof value === "number") return plain(value, undefined, options);
  if ("mm" in value) {
    const inch = options.show === "in";
    const number = inch ? value.mm / MM_PER_INCH : value.mm;
    const digits = (value.digits ?? 4) + (inch ? 1 : 0);
    return `${plain(number, digits, options, value.signed)} ${options.show}`;
  }
  if ("deg" in value) return `${plain(value.deg, value.digits ?? 4, options, value.signed)}°`;
  if ("slope" in value) {
    return options.show === "in"
      ? `${plain(value.slope, 6, options, value.signed)} in/in`
      : `${plain(value.slope * 1000, 4, options, value.signed)} mm/m`;
  }
  if ("share" in value) return `${plain(value.share * 100, 1, options)} %`;
  return `${plain(value.value, value.digits ?? 4, options)} ${value.unit}`.trim();
}

function plain(value: number, digits: number | undefined, options: SayOptions, signed = false): string {
  if (!Number.isFinite(value)) return "unknown";
  // Trailing zeros say nothing in a sentence; a table aligns its own.
  const rounded = digits === undefined ? value : Number(value.toFixed(digits));
  const text = digits === undefined ? String(value) : trimZeros(rounded.toFixed(digits));
  const magnitude = text.replace(/^-/, "");
  const sign = rounded < 0 ? "-" : signed && rounded > 0 ? "+" : "";
  return sign + (options.decimal === "," ? magnitude.replace(".", ",") : magnitude);
}
const trimZeros = (text: string): string => (text.includes(".") ? text.replace(/\.?0+$/, "") : text);
