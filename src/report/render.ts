import Handlebars from "handlebars";
import type { SetupReport } from "../model/setupReport.ts";
import { REPORT_FILES, type ReportAssets } from "./assets.ts";
import { fontFaces } from "./fontFaces.ts";
import { type PageContext, pageContext } from "./pageContext.ts";
import { type PageSize, pageStyle } from "./pageStyle.ts";
import { SECTIONS } from "./sections/index.ts";

export interface RenderOptions {
  readonly assets: ReportAssets;
  readonly page: PageSize;
  /** A newer revision of the same setup exists: its number is printed across the top. */
  readonly supersededBy?: number;
}

const TEMPLATE = "setup-report.hbs";
/** Nothing may be fetched and nothing may run, whatever a log has smuggled in. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/**
 * The page of a report as one HTML text that needs nothing else: styles and typeface are inside, there is no script.
 * The same record, files and options give the same text. Throws RangeError when a template, style or font is missing.
 */
export function renderReport(report: SetupReport, options: RenderOptions): string {
  const page = pageContext(report, options.supersededBy ?? null);
  const template = templateOf(options.assets.templates);
  const sections = sectionViews(page);
  const styles = stylesOf(page, options, JSON.stringify(sections));
  return template({ ...head(page, options.page), ...styles, sections });
}

function head(page: PageContext, size: PageSize): Readonly<Record<string, string>> {
  const { report, texts } = page;
  return {
    language: texts.language,
    policy: POLICY,
    title: `${page.name(report.report.id)}, ${page.text(texts.revision, { revision: String(report.report.revision) })}`,
    size,
    verdict: report.verdict,
  };
}

const sectionViews = (page: PageContext) =>
  SECTIONS.flatMap((section) => {
    const view = section.view(page);
    return view === null
      ? []
      : [{ name: section.name, partial: section.name, heading: section.heading(page), view }];
  });

/** `style` is what all reports share, so that who prints many keeps it; `sheet` is this one's own. */
function stylesOf(page: PageContext, { assets, page: size }: RenderOptions, text: string) {
  const { report, texts } = page;
  const revision = page.text(texts.revision, { revision: String(report.report.revision) });
  const shared = REPORT_FILES.styles.map((file) => fileOf(assets.styles, file));
  const margins = {
    left: `${page.name(report.report.id)}, ${revision}`,
    middle: texts.itemsOnly,
    pageOf: texts.page,
  };
  return { style: [fontFaces(assets.fonts, text), ...shared].join("\n"), sheet: pageStyle(size, margins) };
}

const compiled = new WeakMap<ReportAssets["templates"], Handlebars.TemplateDelegate>();

/** The templates compiled together, once for each set of files. */
function templateOf(templates: ReportAssets["templates"]): Handlebars.TemplateDelegate {
  const known = compiled.get(templates);
  if (known !== undefined) return known;
  const handlebars = Handlebars.create();
  const options: CompileOptions = { strict: true, knownHelpersOnly: true, preventIndent: true };
  for (const file of REPORT_FILES.templates.filter((name) => name !== TEMPLATE)) {
    const name = file.replace(/^partials\//, "").replace(/\.hbs$/, "");
    handlebars.registerPartial(name, handlebars.compile(fileOf(templates, file), options));
  }
  const template = handlebars.compile(fileOf(templates, TEMPLATE), options);
  compiled.set(templates, template);
  return template;
}

function fileOf(files: Readonly<Record<string, string>>, name: string): string {
  const text = files[name];
  if (text === undefined) throw new RangeError(`the file ${name} was not handed in`);
  return text;
}
