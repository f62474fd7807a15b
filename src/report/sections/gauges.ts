import { quantity } from "../format.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section } from "./contract.ts";
import { quantityText } from "./shared.ts";

/** The instruments: uncertainty of one reading, calibration, and whether they share the machine's errors. */
export const gauges: Section = {
  name: "gauges",
  heading: (page) => page.texts.gauges.heading,
  view: (page) => {
    const { report, texts } = page;
    return {
      text: texts.gauges,
      empty: report.instruments.length === 0 ? texts.gauges.empty : null,
      rows: report.instruments.map((instrument) => ({
        name: page.name(instrument.name),
        uncertainty: standardUncertainty(instrument.uncertainty, page),
        due: instrument.calibrationDue === null ? texts.notStated : page.name(instrument.calibrationDue),
        where: instrument.where === null ? texts.notStated : texts.where[instrument.where],
      })),
    };
  },
};

function standardUncertainty(mm: number | null, page: PageContext): string {
  if (mm === null) return page.texts.notStated;
  return quantityText(quantity(mm, "mm", page.style, { as: "uncertainty" }));
}
