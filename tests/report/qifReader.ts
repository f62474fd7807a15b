// Reads a QIF document back with an XML parser and holds it to the published schemas.
import { parseXml, XmlElement, XmlText } from "@rgrove/parse-xml";
import { ATTRIBUTES, COUNTED, contentOf, targetOf, textOf } from "../references/qifSchema.ts";

/** The root of a document. Throws what the parser says of one that is not well-formed. */
export function readQif(document: string): XmlElement {
  const { root } = parseXml(document);
  if (root === null) throw new Error("the document has no root");
  return root;
}
export const childrenOf = (element: XmlElement): XmlElement[] =>
  element.children.filter((child): child is XmlElement => child instanceof XmlElement);
export const everyElement = (element: XmlElement): XmlElement[] => [
  element,
  ...childrenOf(element).flatMap(everyElement),
];
export const namesOf = (element: XmlElement): string[] => everyElement(element).map(({ name }) => name);
/** All elements below with a name, or whose name ends so when it begins with `*`. */
export const allNamed = (element: XmlElement, name: string): XmlElement[] =>
  everyElement(element).filter((one) => isNamed(one.name, name));
const isNamed = (name: string, wanted: string): boolean =>
  wanted.startsWith("*") ? name.endsWith(wanted.slice(1)) : name === wanted;
/** The only element with this name below; throws when there are none or several. */
export function only(element: XmlElement, name: string): XmlElement {
  const [found, ...more] = allNamed(element, name);
  if (found === undefined || more.length > 0)
    throw new Error(`${more.length === 0 ? "no" : "more than one"} ${name}`);
  return found;
}
const indexes = new WeakMap<XmlElement, Map<string, XmlElement>>();
/** The object with this id; throws when there is none. */
export function withId(root: XmlElement, id: string | null): XmlElement {
  const index =
    indexes.get(root) ??
    new Map(
      everyElement(root).flatMap((one) =>
        one.attributes.id === undefined ? [] : [[one.attributes.id, one]],
      ),
    );
  indexes.set(root, index);
  const found = index.get(id ?? "");
  if (found === undefined) throw new Error(`nothing has the id ${id}`);
  return found;
}
/** The text of the only such child; null when it has none. */
export const textIn = (element: XmlElement, name: string): string | null =>
  childrenOf(element).find((child) => child.name === name)?.text ?? null;
/** Values of the attributes of one name that an object has beside its elements. */
export const valuesOf = (element: XmlElement, name: string): string[] =>
  childrenOf(element)
    .filter((child) => child.name === "Attributes")
    .flatMap(childrenOf)
    .filter(({ attributes }) => attributes.name === name)
    .map(({ attributes }) => attributes.value ?? "");

/** Everything in which a document is not as the standard says; empty for a sound one. */
export const faultsOf = (root: XmlElement): string[] => [
  ...rootFaults(root),
  ...everyElement(root).flatMap((element) => [
    ...contentFaults(element),
    ...countFaults(element),
    ...attributeFaults(element),
  ]),
  ...referenceFaults(root),
  ...pairFaults(root),
  ...unitFaults(root),
];

function rootFaults(root: XmlElement): string[] {
  const ids = allIds(root);
  return [
    ...(root.name === "QIFDocument" ? [] : [`the root is ${root.name}`]),
    ...(ids.every((id) => /^[1-9]\d*$/.test(id)) ? [] : ["an id is no number above zero"]),
    ...(new Set(ids).size === ids.length ? [] : ["two objects have one id"]),
    ...(Math.max(...ids.map(Number)) === Number(root.attributes.idMax)
      ? []
      : ["idMax is not the largest id"]),
  ];
}
const allIds = (root: XmlElement): string[] =>
  everyElement(root).flatMap(({ attributes }) => attributes.id ?? []);
const parentName = ({ parent }: XmlElement): string => (parent instanceof XmlElement ? parent.name : "");

function contentFaults(element: XmlElement): string[] {
  const content = contentOf(element.name, parentName(element));
  const children = childrenOf(element);
  const where = `${element.name} in ${parentName(element)}`;
  if (content === null) {
    const text = textOf(element.name);
    if (text === null) return [`${where}: not known here`];
    if (children.length > 0) return [`${where}: holds elements where a text belongs`];
    return new RegExp(`^(?:${text})$`).test(element.text)
      ? []
      : [`${where}: "${element.text}" is not ${text}`];
  }
  const loose = element.children.filter((child) => child instanceof XmlText && child.text.trim() !== "");
  const names = children.map(({ name }) => `${name} `).join("");
  return [
    ...(loose.length === 0 ? [] : [`${where}: has a text between its elements`]),
    ...(new RegExp(`^${patternOf(content)}$`).test(names)
      ? []
      : [`${where}: holds ${names}where ${content} belongs`]),
  ];
}
/** `A? B|C D+` as a pattern over names that each end in a blank. */
const patternOf = (content: string): string =>
  content
    .split(" ")
    .filter((part) => part !== "")
    .map((part) => {
      const [, names = "", often = ""] = /^\(?([^)?*+]*)\)?([?*+]?)$/.exec(part) ?? [];
      return `(?:(?:${names.split("|").map(family).join("|")}) )${often}`;
    })
    .join("");
/** The schema's abstract elements, for which those of each kind stand. */
const family = (name: string): string =>
  /^(?:Feature|Characteristic)(?:Definition|Nominal|Item|Measurement)$/.test(name)
    ? `[A-Za-z]+${name}`
    : name;

function countFaults(element: XmlElement): string[] {
  const children = childrenOf(element).length;
  const counted = COUNTED.includes(element.name);
  const stated = element.attributes.n;
  if (!counted) return stated === undefined ? [] : [`${element.name}: n where nothing is counted`];
  return stated === String(children) && children > 0
    ? []
    : [`${element.name}: n is ${stated}, it has ${children}`];
}

function attributeFaults({ name, attributes }: XmlElement): string[] {
  const allowed = ATTRIBUTES[name] ?? {};
  return Object.entries(attributes).flatMap(([key, value]) => {
    if (key === "n" || key === "id") return [];
    const pattern = Object.hasOwn(allowed, key) ? allowed[key] : undefined;
    if (pattern === undefined) return [`${name}: has no attribute ${key}`];
    return new RegExp(`^(?:${pattern})$`).test(value) ? [] : [`${name}: ${key} is "${value}"`];
  });
}

/** Each reference must meet an object of the right sort, and of its own kind where definition, nominal, item and measurement meet. */
function referenceFaults(root: XmlElement): string[] {
  const byId = new Map(
    everyElement(root).flatMap((one) => (one.attributes.id ? [[one.attributes.id, one.name]] : [])) as [
      string,
      string,
    ][],
  );
  return everyElement(root)
    .filter(({ name }) => name === "Id" || (/[a-z]Id$/.test(name) && name !== "QPId"))
    .flatMap((reference) => {
      const parent = parentName(reference);
      const target = targetOf(reference.name, parent);
      if (target === null) return [`${reference.name} in ${parent}: may not stand here`];
      const wanted = target.startsWith("=")
        ? parent.replace(/(?:Feature|Characteristic)[A-Z][a-z]+$/, "") + target.slice(1)
        : target;
      const met = byId.get(reference.text) ?? "nothing";
      return isNamed(met, wanted)
        ? []
        : [`${reference.name} in ${parent}: ${reference.text} is ${met}, not ${wanted}`];
    });
}

/** Every object of a lower aspect belongs to one of the higher, and no two items are measured by one another's name. */
function pairFaults(root: XmlElement): string[] {
  const chains = [
    ["*FeatureNominal", "FeatureDefinitionId"],
    ["*FeatureItem", "FeatureNominalId"],
    ["*FeatureMeasurement", "FeatureItemId"],
    ["*CharacteristicNominal", "CharacteristicDefinitionId"],
    ["*CharacteristicItem", "CharacteristicNominalId"],
    ["*CharacteristicMeasurement", "CharacteristicItemId"],
  ] as const;
  return chains.flatMap(([name, reference]) => {
    const met = allNamed(root, name).map((one) => textIn(one, reference));
    return new Set(met).size === met.length ? [] : [`two of ${name} share one ${reference}`];
  });
}

/** The schema reads a length without a stated unit as metres, and an angle as radians. */
function unitFaults(root: XmlElement): string[] {
  const factor = (unit: string): number =>
    Number(allNamed(root, unit)[0] === undefined ? Number.NaN : only(only(root, unit), "Factor").text);
  return [
    ...(factor("LinearUnit") === 0.001 ? [] : ["lengths are not in mm"]),
    ...(factor("AngularUnit") === Math.PI / 180 ? [] : ["angles are not in degrees"]),
  ];
}
