import { decimalsFor } from "../../model/decimals.ts";
import type { ReportFeature, RoundSize } from "../../model/setupReport.ts";
import { plainNumber } from "../format.ts";
import { own, type PageContext } from "../pageContext.ts";
import type { Plot } from "../plots/contract.ts";
import { type NamedPlot, plotFeature } from "../plots/index.ts";
import type { Section, View } from "./contract.ts";
import { lengthText } from "./shared.ts";

/** Every feature as fitted, as left beside as found, with its pictures; how these are read is said once. */
export const features: Section = {
  name: "features",
  heading: (page) => page.texts.features.heading,
  view: (page) => {
    const { report, texts } = page;
    const entries = Object.entries(report.features).map(([name, feature], index) => {
      const plots = plotFeature(page.name(name), feature, `feature-${index}`, page);
      return { view: entryOf(name, feature, plots, page), plots };
    });
    return {
      text: texts.features,
      empty: entries.length === 0 ? texts.features.empty : null,
      look: texts.plots.look,
      keys: keysOf(
        entries.flatMap(({ plots }) => plots),
        page,
      ),
      entries: entries.map(({ view }) => view),
    };
  },
};

/** How the pictures are read, kind by kind, each sentence once. */
function keysOf(plots: readonly NamedPlot[], page: PageContext): readonly View[] {
  const kinds = [...new Set(plots.map(({ kind }) => kind))];
  return kinds.map((kind) => {
    const sentences = plots.filter((plot) => plot.kind === kind).flatMap(({ key }) => key ?? []);
    return {
      kind: own<string>(page.texts.plots.kinds, kind) ?? kind,
      says: [...new Set(sentences)].join(" "),
    };
  });
}

function entryOf(
  name: string,
  feature: ReportFeature,
  plots: readonly Plot[],
  page: PageContext,
): { [key: string]: View } {
  const states = feature.asFound === undefined ? [feature] : [feature.asFound, feature];
  return {
    name: page.name(name),
    fit: own<string>(page.texts.fits, feature.fit) ?? page.name(feature.fit),
    states: states.map((state) => ({
      name: page.texts.states[state.state],
      facts: factsOf(state, page).map(([label, parts]) => ({ label, parts })),
    })),
    pair: states.length > 1,
    troubles: states.flatMap((state) => (state.trouble === undefined ? [] : [page.say(state.trouble)])),
    plots: plots.map(({ svg, caption }) => ({ svg, caption })),
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
    [words.clamping, feature.clamping === undefined ? null : page.say(feature.clamping)],
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
    mm === null || mm === undefined
      ? null
      : lengthText(
          mm,
          page,
          page.style.known?.(mm) ?? {
            decimals: (shown) => Math.max(shown === "in" ? 5 : 4, decimalsFor(mm, {}, shown)),
          },
        );
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
