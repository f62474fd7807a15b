import { decimalsFor, inShown, isOpen, type Rounding, type ShownUnit } from "./decimals.ts";
import type { KnownRounding } from "./knownRounding.ts";

/**
 * Words with numbers in them. The pipeline writes each sentence once, in English, as a template with
 * named values; the values keep their kind (a length, an angle, a slope), so that a page can say the same
 * sentence in another unit or language without computing anything again.
 */
export type SaidValue =
  | string
  | number
  /** A sentence in the sentence: it is said in the page's unit and language too. */
  | Said
  | ({ readonly mm: number } & Shown)
  | ({ readonly deg: number } & Shown)
  /** Rise per length, as mm per mm. */
  | { readonly slope: number; readonly signed?: boolean }
  /** A value in a unit that has no second system, such as N·m or a count with its noun. */
  | { readonly value: number; readonly unit: string; readonly digits?: number }
  /** A fraction of one, shown in percent. */
  | { readonly share: number };

interface Shown extends Rounding {
  readonly signed?: boolean;
  /** Decimals in mm or degrees, one more in inch: coarser on purpose, zeros at the end left out. */
  readonly digits?: number;
}

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
  /** The other unit of length, in brackets behind. */
  readonly also?: "mm" | "in" | null;
  /** Digits of lengths that are a result elsewhere. */
  readonly known?: KnownRounding;
  /** So many decimals more than are worth saying, to tell one sentence from another. */
  readonly finer?: number;
  /** The template in the language of the page. */
  readonly translate?: (template: string, values: Said["values"]) => string;
  /** A phrase that came in as plain text, in the language of the page; only where the translation marks it. */
  readonly phrase?: (text: string, mark: string) => string;
}
export const RECORD_WORDING: SayOptions = { show: "mm", decimal: "." };

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
  const said = options.translate?.(template, values) ?? template;
  return said.replace(/\{([a-zA-Z0-9]+)(?::([a-z]+))?\}/g, (_, name: string, mark: string | undefined) => {
    const value = Object.hasOwn(values, name) ? values[name] : undefined;
    if (value === undefined) throw new RangeError(`the sentence "${template}" has no value ${name}`);
    if (mark !== undefined && typeof value === "string") return options.phrase?.(value, mark) ?? value;
    return valueText(value, options);
  });
}

/** One value as text with its unit. */
export function valueText(value: SaidValue, options: SayOptions): string {
  if (typeof value === "string") return value;
  if (typeof value === "number") return marked(String(value), value, options);
  if ("template" in value) return fill(value.template, value.values, options);
  if ("mm" in value) return inBoth(options, (show) => `${rounded(value.mm, value, show, options)} ${show}`);
  if ("deg" in value) return `${rounded(value.deg, value, "deg", options)}°`;
  if ("slope" in value) {
    const { finer = 0 } = options;
    return inBoth(options, (show) =>
      show === "in"
        ? `${fixed(value.slope, 6 + finer, options, value.signed)} in/in`
        : `${fixed(value.slope * 1000, 4 + finer, options, value.signed)} mm/m`,
    );
  }
  if ("share" in value) return `${trimmed(fixed(value.share * 100, 1, options))} %`;
  return `${trimmed(fixed(value.value, value.digits ?? 4, options))} ${value.unit}`.trim();
}

/** In the page's unit, and the other one in brackets behind where the page asks for both. */
function inBoth({ show, also }: SayOptions, text: (show: "mm" | "in") => string): string {
  return also && also !== show ? `${text(show)} (${text(also)})` : text(show);
}

function rounded(value: number, { digits, signed, ...own }: Shown, unit: ShownUnit, options: SayOptions) {
  const rounding = (unit !== "deg" && isOpen(own) ? options.known?.(value) : null) ?? own;
  const decimals =
    digits === undefined
      ? decimalsFor(value, rounding, unit, unit === options.also && unit !== options.show)
      : digits + (unit === "in" ? 1 : 0);
  const text = fixed(inShown(value, unit), decimals + (options.finer ?? 0), options, signed);
  // Zeros at the end of what was measured say how well it is known; behind what was stated they say nothing.
  return digits !== undefined || rounding.as === "stated" ? trimmed(text) : text;
}

function fixed(value: number, decimals: number, options: SayOptions, signed = false): string {
  return marked(value.toFixed(decimals), value, options, signed);
}
/** Digits with the page's decimal mark; a number that rounds to nothing has no sign. */
function marked(digits: string, value: number, options: SayOptions, signed = false): string {
  if (!Number.isFinite(value)) return options.translate?.("unknown", {}) ?? "unknown";
  const magnitude = digits.replace(/^-/, "");
  const sign = !/[1-9]/.test(magnitude) ? "" : value < 0 ? "-" : signed ? "+" : "";
  return sign + (options.decimal === "," ? magnitude.replace(".", ",") : magnitude);
}
const trimmed = (text: string): string => (/[.,]/.test(text) ? text.replace(/[.,]?0+$/, "") : text);
