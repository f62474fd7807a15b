// Finds every sentence that the sources can say, by reading them with a parser: the first argument of say(), the third of
// a notebook's decide() and notice(), and the reasons of fits. What cannot be known before running becomes a hole.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseAst } from "vitest/node";

const SOURCES = fileURLToPath(new URL("../../src", import.meta.url));
/** Stands for a part of a text that only a run can know. */
export const HOLE = "\u2026";

interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly [key: string]: unknown;
}
export interface Found {
  readonly file: string;
  readonly line: number;
  readonly text: string;
}

/** Which argument of which call is a sentence, in which rooms. */
const CALLS: readonly { readonly name: string; readonly at: number; readonly rooms: RegExp }[] = [
  { name: "say", at: 0, rooms: /^(ingest|analysis)\// },
  { name: "decide", at: 2, rooms: /^ingest\// },
  { name: "notice", at: 2, rooms: /^ingest\// },
  { name: "noZone", at: 1, rooms: /^analysis\// },
  { name: "noResult", at: 1, rooms: /^math\// },
  { name: "refuse", at: 1, rooms: /^math\// },
];

/** Passes on the sentences of its callers. */
const NOTEBOOK = "ingest/notebook.ts";

const isNode = (value: unknown): value is Node =>
  typeof value === "object" && value !== null && typeof (value as { type?: unknown }).type === "string";
const children = (node: Node): Node[] => Object.values(node).flat().filter(isNode);
const nodes = (node: Node): Node[] => [node, ...children(node).flatMap(nodes)];
const named = (node: unknown): string | undefined =>
  isNode(node) && node.type === "Identifier" ? String(node.name) : undefined;
const isFunction = (node: Node): boolean =>
  /^(FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/.test(node.type);

/** Sentences of all sources, each once. */
export function sentencesOfSources(): readonly Found[] {
  const files = readdirSync(SOURCES, { recursive: true, encoding: "utf8" })
    .map((file) => file.replaceAll("\\", "/"))
    .filter((file) => file.endsWith(".ts"))
    .sort();
  const found = files.flatMap((file) => sentencesOf(file, readFileSync(join(SOURCES, file), "utf8")));
  return found.filter((one, i) => found.findIndex(({ text }) => text === one.text) === i);
}

/** The sentences of one file. */
export function sentencesOf(file: string, source: string): readonly Found[] {
  const calls = file === NOTEBOOK ? [] : CALLS.filter(({ rooms }) => rooms.test(file));
  if (calls.length === 0) return [];
  const tree = parseAst(source, { lang: "ts" }) as unknown as Node;
  const all = nodes(tree);
  const texts = new Texts(all);
  return all
    .filter((node) => node.type === "CallExpression")
    .flatMap((node) => {
      const callee = node.callee as Node;
      const name = named(callee) ?? named(callee.property);
      const call = calls.find((one) => one.name === name);
      const argument = call && (node.arguments as readonly Node[])[call.at];
      if (argument === undefined) return [];
      const line = source.slice(0, node.start).split("\n").length;
      return texts.of(argument).map((text) => ({ file, line, text }));
    })
    .concat(wordsOf(file, source, all, texts));
}

/** What a move is called: the advice gives it as plain words. */
function wordsOf(file: string, source: string, all: readonly Node[], texts: Texts): Found[] {
  if (!file.startsWith("analysis/advice/")) return [];
  return all
    .filter((node) => node.type === "Property" && named(node.key) === "words" && isNode(node.value))
    .flatMap((node) => {
      const line = source.slice(0, node.start).split("\n").length;
      return texts.of(node.value as Node).map((text) => ({ file, line, text }));
    });
}

const parameters = (node: Node): string[] =>
  (node.params as readonly Node[]).flatMap(
    (one) => named(one.type === "AssignmentPattern" ? one.left : one) ?? [],
  );

/** What an expression can be as text, within its file. */
class Texts {
  readonly #all: readonly Node[];
  constructor(all: readonly Node[]) {
    this.#all = all;
  }

  of(node: Node, seen: ReadonlySet<Node> = new Set()): string[] {
    if (seen.has(node)) return [HOLE];
    const inside = new Set(seen).add(node);
    const one = (inner: unknown): string[] => (isNode(inner) ? this.of(inner, inside) : [HOLE]);
    const any = (inner: readonly unknown[]): string[] => [...new Set(inner.flatMap(one))];
    switch (node.type) {
      case "Literal":
        return typeof node.value === "string" ? [node.value] : [HOLE];
      case "TSAsExpression":
      case "TSNonNullExpression":
      case "ParenthesizedExpression":
        return one(node.expression);
      case "TemplateLiteral":
        return this.#joined(node, one);
      case "ConditionalExpression":
        return any([node.consequent, node.alternate]);
      case "LogicalExpression":
        return any([node.left, node.right]);
      case "BinaryExpression":
        return one(node.left).flatMap((left) => one(node.right).map((right) => left + right));
      case "Identifier":
        return this.#variable(String(node.name), any);
      case "MemberExpression":
        return this.#member(node, any);
      case "CallExpression":
        return this.#called(node, any);
      default:
        return [HOLE];
    }
  }

  #joined(node: Node, one: (inner: unknown) => string[]): string[] {
    const parts = node.quasis as readonly { readonly value: { readonly cooked: string } }[];
    const holes = node.expressions as readonly Node[];
    return parts.reduce<string[]>(
      (texts, part, i) =>
        texts
          .map((text) => text + part.value.cooked)
          .flatMap((text) => (i < holes.length ? one(holes[i]).map((inner) => text + inner) : [text])),
      [""],
    );
  }

  #variable(name: string, any: (inner: readonly unknown[]) => string[]): string[] {
    const values = this.#all
      .filter((node) => node.type === "VariableDeclarator" && named(node.id) === name)
      .flatMap((node) => node.init ?? []);
    const given = this.#all
      .filter((node) => isFunction(node) && parameters(node).includes(name))
      .flatMap((node) => this.#argumentsFor(node, parameters(node).indexOf(name)));
    return values.length + given.length === 0 ? this.#property(name, any) : any([...values, ...given]);
  }

  #argumentsFor(declared: Node, at: number): unknown[] {
    const name =
      named(declared.id) ??
      named(this.#all.find((node) => node.type === "VariableDeclarator" && node.init === declared)?.id);
    return this.#all
      .filter((node) => node.type === "CallExpression" && name !== undefined && named(node.callee) === name)
      .flatMap((node) => (node.arguments as readonly unknown[])[at] ?? []);
  }

  #member(node: Node, any: (inner: readonly unknown[]) => string[]): string[] {
    if (node.computed !== true) return this.#property(named(node.property) ?? "", any);
    const object = this.#all.find(
      (one) => one.type === "VariableDeclarator" && named(one.id) === named(node.object),
    )?.init;
    const first = object ?? node.object;
    const bare = isNode(first) && isNode(first.expression) ? first.expression : first;
    if (!isNode(bare) || bare.type !== "ObjectExpression") return [HOLE];
    return any((bare.properties as readonly Node[]).map((property) => property.value));
  }

  #property(name: string, any: (inner: readonly unknown[]) => string[]): string[] {
    const values = this.#all
      .filter((node) => node.type === "Property" && (named(node.key) ?? (node.key as Node).value) === name)
      .map((node) => node.value)
      .filter((value) => isNode(value) && value.type !== "Identifier");
    return values.length === 0 ? [HOLE] : any(values);
  }

  #called(node: Node, any: (inner: readonly unknown[]) => string[]): string[] {
    const declared = this.#all.find(
      (one) =>
        isFunction(one) &&
        (named(one.id) ??
          named(this.#all.find((two) => two.type === "VariableDeclarator" && two.init === one)?.id)) ===
          named(node.callee),
    );
    if (declared === undefined) return [HOLE];
    const body = declared.body as Node;
    if (body.type !== "BlockStatement") return any([body]);
    return any(
      nodes(body)
        .filter((one) => one.type === "ReturnStatement")
        .map((one) => one.argument),
    );
  }
}
