import type * as v from "valibot";
import { checkShape, type Misfit, unknownKey } from "./checkShape.ts";
import type { CharacteristicPlanKind, PlanKind, PlanKinds } from "./fields.ts";
import { articled, listed, meant, nearest, shown } from "./nearest.ts";
import {
  adviceEntry,
  characteristicEntry,
  exclusion,
  featureEntry,
  instrument,
  LIMIT_KEYS,
  PLAN_KEYS,
  type SimpleParts,
  signOff,
  simpleParts,
} from "./planSchema.ts";
import type { KeyPath, PlanProblem } from "./problem.ts";
import { mapWritten } from "./schemaWalk.ts";
import type { YamlSource } from "./yamlSource.ts";

/** Collects what is wrong, and what is worth knowing, with its place. */
export class Remarks {
  readonly problems: PlanProblem[] = [];
  readonly notes: PlanProblem[] = [];
  private readonly source: YamlSource;
  constructor(source: YamlSource) {
    this.source = source;
  }
  problem(path: KeyPath, text: string, place: "key" | "value" = "value"): void {
    this.problems.push(this.source.problemAt(path, text, place));
  }
  note(path: KeyPath, text: string, place: "key" | "value" = "value"): void {
    this.notes.push(this.source.problemAt(path, text, place));
  }
}

export type Mapping = Readonly<Record<string, unknown>>;
export const isMapping = (value: unknown): value is Mapping =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** One entry of a list or mapping: as written (numbers that are names as text), and checked where its shape is right. */
export interface Entry<T> {
  readonly path: KeyPath;
  readonly raw: Mapping;
  readonly value: T | null;
}
export interface KindEntry<K extends PlanKind> extends Entry<Mapping> {
  readonly kind: K;
}
export interface Sections {
  readonly simple: SimpleParts | null;
  readonly simpleRaw: Mapping;
  readonly instruments: ReadonlyMap<string, Entry<v.InferOutput<ReturnType<typeof instrument>>>>;
  readonly features: ReadonlyMap<string, Entry<v.InferOutput<ReturnType<typeof featureEntry>>>>;
  readonly characteristics: readonly KindEntry<CharacteristicPlanKind>[];
  readonly advice: readonly KindEntry<PlanKind>[];
  readonly signOffs: readonly Entry<v.InferOutput<ReturnType<typeof signOff>>>[];
  readonly exclude: readonly Entry<v.InferOutput<ReturnType<typeof exclusion>>>[];
}

/** Checks each part of a plan by its own shape, so that a mistake in one hides none in another. */
export function readSections(source: YamlSource, kinds: PlanKinds, remarks: Remarks): Sections {
  const reader = new SectionReader(source, remarks);
  const unknown = Object.keys(source.root).filter((key) => !PLAN_KEYS.includes(key));
  for (const key of unknown) remarks.problem([key], unknownKey(key, PLAN_KEYS, "a plan"), "key");
  const meantKeys = unknown.map((key) => nearest(key, PLAN_KEYS));
  const { simple, simpleRaw } = reader.simple(meantKeys.filter((key) => key !== null));
  return {
    simple,
    simpleRaw,
    instruments: reader.named("instruments", instrument, "instrument"),
    features: reader.named("features", featureEntry, "feature"),
    characteristics: reader.byKind("characteristics", kinds.characteristics, (kind) => ({
      schema: characteristicEntry(kind),
      // Which limit keys a kind takes, and whether a datum, is said by rules that know why.
      ruled: [...LIMIT_KEYS, ...(kind.to.length === 0 ? ["to"] : [])],
    })),
    advice: reader.byKind("advice", kinds.advice, (kind) => ({ schema: adviceEntry(kind), ruled: [] })),
    signOffs: reader.listed("sign-offs", signOff, "a sign-off"),
    exclude: reader.listed("exclude", exclusion, "an exclusion"),
  };
}

class SectionReader {
  private readonly source: YamlSource;
  private readonly remarks: Remarks;
  constructor(source: YamlSource, remarks: Remarks) {
    this.source = source;
    this.remarks = remarks;
  }

  /** A required part that is there under a misspelt key is not also told as missing. */
  simple(misspelt: readonly string[]): { simple: SimpleParts | null; simpleRaw: Mapping } {
    const present: Record<string, unknown> = Object.create(null);
    // A section whose entries are all commented out says nothing, as if its key were not there.
    const parts = simpleParts((key) => Object.hasOwn(this.source.root, key));
    for (const key of Object.keys(parts.entries))
      if (Object.hasOwn(this.source.root, key) && (this.source.root[key] !== null || !(key in MAY_BE_EMPTY)))
        present[key] = this.source.root[key];
    const entry = this.entry([], present, parts, "the plan", misspelt);
    return { simple: entry.value, simpleRaw: entry.raw };
  }

  named<T extends v.GenericSchema>(
    section: string,
    schema: () => T,
    noun: string,
  ): Map<string, Entry<v.InferOutput<T>>> {
    const entries = new Map<string, Entry<v.InferOutput<T>>>();
    const written = this.source.root[section] ?? {};
    if (!isMapping(written)) {
      this.remarks.problem([section], `"${section}" is ${shown(written)}; expected names with their keys`);
      return entries;
    }
    for (const [name, raw] of Object.entries(written))
      if (name.trim() === "")
        this.remarks.problem([section, name], `${articled(noun)} has no name; give one`, "key");
      else entries.set(name, this.entry([section, name], raw, schema(), `${noun} ${shown(name)}`));
    return entries;
  }

  listed<T extends v.GenericSchema>(
    section: string,
    schema: () => T,
    noun: string,
  ): Entry<v.InferOutput<T>>[] {
    return this.items(section).map(({ path, raw }) => this.entry(path, raw, schema(), noun));
  }

  byKind<K extends PlanKind>(
    section: string,
    kinds: readonly K[],
    shape: (kind: K) => { schema: v.GenericSchema; ruled: readonly string[] },
  ): KindEntry<K>[] {
    return this.items(section).flatMap(({ path, raw }) => {
      if (!isMapping(raw)) {
        this.remarks.problem(
          path,
          `an entry of "${section}" is ${shown(raw)}; expected keys such as "kind" and "of"`,
        );
        return [];
      }
      const kind = this.kindOf(section, path, raw, kinds);
      if (kind === null) return [];
      const { schema, ruled } = shape(kind);
      const entry = this.entry(path, raw, schema, `${articled(kind.kind)} entry`, ruled);
      return [{ ...entry, kind, value: entry.value as Mapping | null }];
    });
  }

  private kindOf<K extends PlanKind>(
    section: string,
    path: KeyPath,
    raw: Mapping,
    kinds: readonly K[],
  ): K | null {
    const names = kinds.map((kind) => kind.kind);
    if (!Object.hasOwn(raw, "kind")) {
      const slip = nearest("kind", Object.keys(raw));
      const help = slip === null ? `kinds: ${listed(names)}` : `did you mean "kind" by "${slip}"?`;
      this.remarks.problem(path, `an entry of "${section}" lacks "kind"; ${help}`);
      return null;
    }
    const kind = kinds.find((candidate) => candidate.kind === raw.kind);
    if (kind === undefined) {
      const word = typeof raw.kind === "string" ? raw.kind : "";
      const what = section === "advice" ? "a kind of advice" : "a kind of characteristic";
      this.remarks.problem(
        [...path, "kind"],
        `${shown(raw.kind)} is not ${what}; ${meant(word, names, "kinds")}`,
      );
    }
    return kind ?? null;
  }

  private items(section: string): { path: KeyPath; raw: unknown }[] {
    const written = this.source.root[section] ?? [];
    if (Array.isArray(written)) return written.map((raw, index) => ({ path: [section, index], raw }));
    this.remarks.problem(
      [section],
      `"${section}" is ${shown(written)}; expected a list, each entry after "- "`,
    );
    return [];
  }

  /** `ruled` keys that the shape does not have, or misses, are left to the rules. */
  private entry<T extends v.GenericSchema>(
    path: KeyPath,
    written: unknown,
    schema: T,
    noun: string,
    ruled: readonly string[] = [],
  ): Entry<v.InferOutput<T>> {
    const raw = mapWritten(schema, written, path, (value, meta, at) =>
      meta.text === true && (typeof value === "number" || typeof value === "boolean")
        ? (this.source.writtenAt(at) ?? String(value))
        : value,
    );
    const { value, misfits } = checkShape(schema, raw, noun);
    const present = isMapping(raw) ? raw : {};
    const left = ({ path: at, place }: Misfit) =>
      at.length === 1 &&
      ruled.includes(String(at[0])) &&
      (place === "key" || !Object.hasOwn(present, String(at[0])));
    for (const misfit of misfits.filter((one) => !left(one)))
      this.remarks.problem([...path, ...misfit.path], misfit.text, misfit.place);
    return { path, raw: present, value };
  }
}
const MAY_BE_EMPTY = { machine: 1, logs: 1, part: 1, points: 1, match: 1, closure: 1, name: 1, title: 1 };
