import { isAlias, isMap, isScalar, isSeq, LineCounter, type Node, type Pair, parseDocument } from "yaml";
import { clipped } from "./nearest.ts";
import type { KeyPath, PlanProblem } from "./problem.ts";
import { pathText } from "./problem.ts";
import { lacksColon, syntaxText } from "./syntaxText.ts";
import { tooLargeToRead } from "./textLimits.ts";

/** A plan's text as plain values, with the place of each. */
export interface YamlSource {
  readonly file: string;
  /** Mappings are objects without prototype: a key such as `constructor` is only what the file says. */
  readonly root: Record<string, unknown>;
  /** As written, for a number that stands where a name is wanted. */
  writtenAt(path: KeyPath): string | null;
  /** A problem at a value, or at the nearest enclosing thing when there is none. */
  problemAt(path: KeyPath, text: string, place?: "key" | "value"): PlanProblem;
}
export type YamlReading =
  | { readonly ok: true; readonly source: YamlSource; readonly problems: readonly PlanProblem[] }
  | { readonly ok: false; readonly problems: readonly PlanProblem[] };

/**
 * YAML 1.2 (core schema: only `true` and `false` are truth values, `on`, `off`, `yes` and `no` are words). Anchors,
 * aliases and tags of one's own are refused: a plan says what it says where it says it.
 */
export function readYaml(text: string, file: string, words: YamlWords = PLAN_WORDS): YamlReading {
  const counter = new LineCounter();
  const problem: ProblemAt = (offset, path, sentence) => {
    const { line, col } = counter.linePos(Math.max(0, Math.min(offset, text.length)));
    return { file, line: Math.max(1, line), column: Math.max(1, col), path: pathText(path), text: sentence };
  };
  const limit = tooLargeToRead(text);
  if (limit !== null)
    return { ok: false, problems: [{ file, line: limit.line, column: 1, path: "", text: limit.text }] };
  const document = parseDocument(text, {
    version: "1.2",
    schema: "core",
    lineCounter: counter,
    prettyErrors: false,
    uniqueKeys: false,
    // At "silent" the parser keeps quiet about a second document.
    logLevel: "error",
  });
  const syntax = [...document.errors, ...document.warnings].slice(0, MOST_SYNTAX_ERRORS);
  if (syntax.length > 0) {
    const lines = syntax.map((e) => lineAt(text, e.pos[0]));
    const telling = syntax.findIndex((e, i) => lacksColon(e.code, lines[i] ?? ""));
    return {
      ok: false,
      problems: syntax
        .slice(0, telling < 0 ? syntax.length : telling + 1)
        .map((e, i) => problem(e.pos[0], [], syntaxText(e.code, e.message, lines[i] ?? ""))),
    };
  }
  return fromContents(document.contents, { file, problem, words });
}
const lineAt = (text: string, offset: number): string =>
  text.slice(text.lastIndexOf("\n", offset - 1) + 1).split(/\r?\n/, 1)[0] ?? "";

/** How the text is called in sentences, and how one starts it. */
export interface YamlWords {
  readonly noun: string;
  readonly start: string;
}
const PLAN_WORDS: YamlWords = {
  noun: "the plan",
  start: 'start with "plinth: 1", or with what "plinth plan column" prints',
};
/** One slip often makes the parser stumble many times; the first few places are enough. */
const MOST_SYNTAX_ERRORS = 5;
type ProblemAt = (offset: number, path: KeyPath, text: string) => PlanProblem;

interface Place {
  readonly file: string;
  readonly problem: ProblemAt;
  readonly words: YamlWords;
}
function fromContents(contents: unknown, { file, problem, words }: Place): YamlReading {
  const { noun, start } = words;
  if (contents === null || (isScalar(contents) && contents.value === null && !contents.source))
    return { ok: false, problems: [problem(0, [], `${noun} is empty; ${start}`)] };
  if (!isMap(contents)) {
    const kind = isSeq(contents) ? "a list" : isAlias(contents) ? "an alias" : "a single value";
    const offset = (contents as Node).range?.[0] ?? 0;
    return {
      ok: false,
      problems: [problem(offset, [], `${noun} is ${kind}, not keys with values; ${start}`)],
    };
  }
  const reader = new PlainValues(problem);
  const root = reader.value(contents, []) as Record<string, unknown>;
  return { ok: true, source: new Positions(file, root, contents, problem), problems: reader.problems };
}

/** Walks the document once: plain values out, and a problem for each key or value a plan must not hold. */
class PlainValues {
  readonly problems: PlanProblem[] = [];
  private readonly problem: ProblemAt;
  constructor(problem: ProblemAt) {
    this.problem = problem;
  }

  value(node: unknown, path: KeyPath): unknown {
    if (isAlias(node))
      return this.refuse(node, path, `*${node.source} is an alias; write the value out where it is meant`);
    if (isMap(node)) return this.mapping(node.items, path, node);
    if (isSeq(node)) {
      this.anchor(node, path);
      return node.items.map((item, index) => this.value(item, [...path, index]));
    }
    if (!isScalar(node)) return null;
    this.anchor(node, path);
    const { value } = node;
    if (typeof value === "number" && !Number.isFinite(value))
      return this.refuse(node, path, `"${clipped(node.source ?? "")}" is not a number a plan can use`);
    return value;
  }
  private mapping(items: readonly Pair[], path: KeyPath, node: Node & { anchor?: string }): object {
    this.anchor(node, path);
    const result: Record<string, unknown> = Object.create(null);
    for (const pair of items) {
      const key = keyText(pair.key);
      const place = (pair.key ?? node) as Node;
      if (key === null) {
        this.refuse(place, path, "a key must be a word or a number, not a list, a mapping or nothing");
        continue;
      }
      if (key === "<<") {
        this.refuse(
          place,
          path,
          '"<<" merges keys from elsewhere; plans have no such thing, write the keys out',
        );
        continue;
      }
      if (key === "__proto__") {
        this.refuse(place, path, '"__proto__" cannot be used as a name; choose another');
        continue;
      }
      if (Object.hasOwn(result, key)) {
        this.refuse(place, [...path, key], `"${clipped(key)}" stands here twice; keep one of the two`);
        continue;
      }
      result[key] = this.value(pair.value, [...path, key]);
    }
    return result;
  }
  private anchor(node: Node & { anchor?: string }, path: KeyPath): void {
    if (node.anchor !== undefined)
      this.refuse(node, path, `&${node.anchor} is an anchor; plans have none, take it away`);
  }
  private refuse(node: Node, path: KeyPath, text: string): null {
    this.problems.push(this.problem(node.range?.[0] ?? 0, path, text));
    return null;
  }
}

function keyText(key: unknown): string | null {
  if (!isScalar(key)) return null;
  if (typeof key.value === "string") return key.value;
  return key.source === undefined || key.source === "" ? null : key.source;
}

class Positions implements YamlSource {
  readonly file: string;
  readonly root: Record<string, unknown>;
  private readonly contents: Node;
  private readonly problem: ProblemAt;
  constructor(file: string, root: Record<string, unknown>, contents: Node, problem: ProblemAt) {
    this.file = file;
    this.root = root;
    this.contents = contents;
    this.problem = problem;
  }
  writtenAt(path: KeyPath): string | null {
    const { value, depth } = this.locate(path);
    return depth === path.length && isScalar(value) ? (value.source ?? null) : null;
  }
  problemAt(path: KeyPath, text: string, place: "key" | "value" = "value"): PlanProblem {
    const { key, value, depth } = this.locate(path);
    // A missing key has no place of its own; the key of the mapping that lacks it is where one looks.
    const node = depth < path.length || place === "key" ? (key ?? value) : (value ?? key);
    return this.problem(node?.range?.[0] ?? 0, path, text);
  }
  private locate(path: KeyPath): { key: Node | null; value: Node | null; depth: number } {
    let key: Node | null = null;
    let value: Node | null = this.contents;
    let depth = 0;
    for (const part of path) {
      if (isMap(value)) {
        const pair: Pair | undefined = value.items.find((item) => keyText(item.key) === String(part));
        if (pair === undefined) break;
        key = pair.key as Node;
        value = pair.value as Node | null;
      } else if (isSeq(value) && typeof part === "number") {
        key = null;
        value = (value.items[part] ?? null) as Node | null;
      } else break;
      depth++;
    }
    return { key, value, depth };
  }
}
