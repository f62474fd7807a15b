import { safeParse } from "valibot";
import type { CharacteristicPlanKind } from "./fields.ts";
import { quantity } from "./fields.ts";
import { articled } from "./nearest.ts";
import type { Limits } from "./plan.ts";
import { LIMIT_KEYS } from "./planSchema.ts";
import type { KindEntry, Remarks } from "./sections.ts";

type LimitKey = (typeof LIMIT_KEYS)[number];

/**
 * The limits of a characteristic in mm or radians: `max` for unsigned kinds; nominal + plus and nominal - minus for
 * signed ones. A side that is not given has no limit.
 */
export function readLimits(entry: KindEntry<CharacteristicPlanKind>, remarks: Remarks): Limits {
  const { kind, raw, path } = entry;
  const given = LIMIT_KEYS.filter((key) => Object.hasOwn(raw, key) && !Object.hasOwn(kind.inputs(), key));
  const value = (key: LimitKey): number | null => {
    const read = given.includes(key) ? safeParse(quantity(kind.limitDimension), raw[key]) : null;
    return read?.success === true ? read.output : null;
  };
  const signed = given.filter((key) => key !== "max");
  const wrong = wrongSort(kind, given);
  if (wrong !== null) {
    remarks.problem([...path, wrong.key], wrong.text, "key");
    return { nominal: null, lower: null, upper: null };
  }
  if (given.includes("max")) return upperOnly(entry, value("max"), remarks);
  const nominal = value("nominal");
  const [plus, minus] = [value("plus"), value("minus")];
  if (signed.length > 0 && !given.includes("nominal"))
    remarks.problem(
      path,
      `${articled(kind.kind)} entry has "${signed[0]}" but no "nominal"; add the value it is aimed at`,
    );
  if (!given.includes("plus") && !given.includes("minus"))
    remarks.note(
      path,
      `${articled(kind.kind)} entry has no limit: its value is reported, the verdict is undecided`,
    );
  if (nominal === null) return { nominal: null, lower: null, upper: null };
  const limits = {
    nominal,
    upper: plus === null ? null : nominal + plus,
    lower: minus === null ? null : nominal - minus,
  };
  checkOrder(entry, limits, minus, remarks);
  return limits;
}

/** A key that this kind's limit does not have, with the sentence that says what it has instead. */
function wrongSort(
  kind: CharacteristicPlanKind,
  given: readonly LimitKey[],
): { readonly key: LimitKey; readonly text: string } | null {
  const signed = given.filter((key) => key !== "max");
  if (kind.limit === "signed" && given.includes("max"))
    return {
      key: "max",
      text: `"max" is not for ${kind.kind}, which is signed; give nominal, plus and minus`,
    };
  const key = signed[0];
  if (kind.limit === "max" && key !== undefined)
    return { key, text: `"${key}" is not for ${kind.kind}, which is never negative; give max` };
  const bounds = signed.find((one) => one !== "nominal") ?? key;
  if (given.includes("max") && bounds !== undefined)
    return {
      key: bounds,
      text: `"max" and "${bounds}" exclude each other; give max, or nominal, plus and minus`,
    };
  return null;
}

function upperOnly(entry: KindEntry<CharacteristicPlanKind>, max: number | null, remarks: Remarks): Limits {
  if (max !== null && max < 0)
    remarks.problem(
      [...entry.path, "max"],
      `"max" is "${entry.raw.max}", below zero; ${articled(entry.kind.kind)} is never negative`,
    );
  const { signedBy } = entry.kind;
  if (max === null || signedBy === undefined || !Object.hasOwn(entry.raw, signedBy))
    return { nominal: null, lower: null, upper: max };
  remarks.note(
    [...entry.path, "max"],
    `with "${signedBy}" the value has a sign: "max" bounds it on both sides`,
  );
  return { nominal: null, lower: -max, upper: max };
}

function checkOrder(
  entry: KindEntry<CharacteristicPlanKind>,
  limits: Limits,
  minus: number | null,
  remarks: Remarks,
): void {
  const at = [...entry.path, "minus"];
  if (limits.lower !== null && limits.upper !== null && limits.lower >= limits.upper)
    remarks.problem(
      at,
      `nominal - minus is not below nominal + plus, so nothing can pass; "minus" counts downwards: write it without a sign`,
    );
  else if (minus !== null && minus < 0)
    remarks.note(at, `"minus" is negative: the lower limit, nominal - minus, lies above nominal`);
}
