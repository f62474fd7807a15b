import type { ReportFeature, RoundSize } from "../../model/setupReport.ts";
import { plainNumber } from "../format.ts";
import { own, type PageContext } from "../pageContext.ts";
import { plotFeature } from "../plots/index.ts";
import type { Section, View } from "./contract.ts";
import { lengthText } from "./shared.ts";

/** Every feature as fitted, as left beside as found, with one picture. */
export const features: Section = {
  name: "features",
  heading: (page) => page.texts.features.heading,
  view: (page) => {
    const { report, texts } = page;
    const entries = Object.entries(report.features).map(([name, feature], index) =>
      entryOf(name, feature, index, page),
    );
    return { text: texts.features, empty: entries.length === 0 ? texts.features.empty : null, entries };
  },
};

function entryOf(
  name: string,
  feature: ReportFeature,
  index: number,
  page: PageContext,
): { [key: string]: View } {
  const states = feature.asFound === undefined ? [feature] : [feature.asFound, feature];
  const columns = states.map((state) => factsOf(state, page));
  const labels = [...new Set(columns.flatMap((facts) => facts.map(([label]) => label)))];
  const plot = plotFeature(page.name(name), feature, `feature-${index}`, page);
  return {
    name: page.name(name),
    fit: own<string>(page.texts.fits, feature.fit) ?? page.name(feature.fit),
    states: states.map((state) => page.texts.states[state.state]),
    facts: labels.map((label) => ({
      label,
      values: columns.map((facts) => facts.find(([word]) => word === label)?.[1] ?? ["\u2013"]),
    })),
    troubles: states.flatMap((state) => (state.trouble === undefined ? [] : [page.say(state.trouble)])),
    plot: plot && { ...plot },
  };
}

/** A word and its value in parts that are not broken apart. */
type Fact = readonly [label: string, parts: readonly string[]];

function factsOf(feature: ReportFeature, page: PageContext): readonly Fact[] {
  const words = page.texts.features;
  const facts: readonly OpenFact[] = [
    [words.points, String(feature.points)],
    [words.center, feature.center && triple(feature.center, page)],
    [words.direction, feature.direction && directionText(feature.direction, page)],
    [words.diameter, lengthText(feature.diameter, page)],
    ...roundFacts(feature, page),
    ...formFacts(feature, page),
    ...sweepFacts(feature, page),
    [words.clamping, feature.clamping === undefined ? null : page.name(feature.clamping)],
    [words.bolt, feature.bolt === undefined ? null : page.name(feature.bolt)],
    [words.where, feature.where === undefined ? null : page.texts.where[feature.where]],
  ];
  return facts.flatMap(([label, value]) =>
    value === null || value === "" ? [] : [[label, typeof value === "string" ? [value] : value] as const],
  );
}

type OpenFact = readonly [label: string, value: string | readonly string[] | null];

function roundFacts(feature: ReportFeature, page: PageContext): readonly OpenFact[] {
  const size = (round: RoundSize | null | undefined): string | null =>
    round ? lengthText(round.diameter, page) : null;
  const words = page.texts.features;
  return [
    [words.inscribed, size(feature.inscribed)],
    [words.circumscribed, size(feature.circumscribed)],
  ];
}

function formFacts({ zone, rms, quality }: ReportFeature, page: PageContext): readonly OpenFact[] {
  const words = page.texts.features;
  const fine = (mm: number | null | undefined): string | null =>
    lengthText(mm, page, { decimals: page.style.show === "in" ? 5 : 4 });
  const minimum = zone ? [fine(zone.minimum) ?? "", words.proof[zone.proof]] : null;
  return [
    [words.rms, fine(rms)],
    [words.zoneMinimum, minimum],
    [words.zoneLeastSquares, fine(zone?.leastSquares)],
    [words.scatter, fine(quality?.scatter)],
    [words.freedom, quality ? String(quality.degreesOfFreedom) : null],
    [words.condition, quality?.condition ? plainNumber(quality.condition, 1, page.style) : null],
  ];
}

function sweepFacts({ sweep }: ReportFeature, page: PageContext): readonly OpenFact[] {
  if (sweep === undefined) return [];
  const words = page.texts.features;
  return [
    [words.sweep, page.texts.sweeps[sweep.kind]],
    [words.fim, lengthText(sweep.fim, page)],
    [words.sweepRadius, lengthText(sweep.radius, page)],
  ];
}

const triple = (values: readonly number[], page: PageContext): readonly string[] =>
  values.map((value, index) => `${"XYZ"[index]} ${lengthText(value, page)}`);

/** Direction cosines have no unit. */
const directionText = (values: readonly number[], page: PageContext): readonly string[] =>
  values.map((value, index) => `${"ijk"[index]} ${plainNumber(value, 6, page.style)}`);
