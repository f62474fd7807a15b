import type { SetupReport } from "../model/setupReport.ts";
import type { Printer, PrinterUnavailable } from "../report/print.ts";
import { decodeEnclosed } from "./decodeEnclosed.ts";
import { reportJson } from "./reportStore.ts";

export interface PdfMaker {
  /** The PDF with its attachments, or the sentence that says why there is none. */
  print(
    html: string,
    report: SetupReport,
    page: "a4" | "letter",
  ): Promise<Uint8Array | { readonly sentence: string }>;
  close(): Promise<void>;
}

/**
 * Opens a browser when the first PDF is asked for, and uses it for all that follow. `ahead`: at once, so that it starts
 * while there is still something to work out.
 */
export function pdfFor({ ahead = false }: { readonly ahead?: boolean } = {}): PdfMaker {
  let opened: Promise<Printer | PrinterUnavailable> | null = null;
  const open = () => {
    opened ??= import("../report/print.ts").then(({ openPrinter }) => openPrinter());
    return opened;
  };
  // What goes wrong is told to who prints.
  if (ahead) open().catch(() => undefined);
  return {
    async print(html, report, page) {
      const printer = await open();
      if (!printer.available) return { sentence: printer.sentence };
      return printer.print(html, { page, attachments: attachmentsOf(report), metadata: metadataOf(report) });
    },
    async close() {
      const printer = await opened?.catch(() => null);
      if (printer?.available) await printer.close();
    },
  };
}

/** What the PDF carries: the report without the enclosed texts, the plan, and the logs under their names. */
export function attachmentsOf(report: SetupReport) {
  const bare: SetupReport = {
    ...report,
    plan: { ...report.plan, text: "" },
    logs: report.logs.map(({ text: _text, gzip: _gzip, ...log }) => log),
  };
  const { text: _planText, ...plan } = bare.plan;
  const names = new Set<string>(["report.json", `${report.plan.name}.yaml`]);
  const logs = report.logs.flatMap((log) => {
    const bytes = decodeEnclosed(log);
    if (bytes === null) return [];
    const name = names.has(log.name) ? `${log.sha256.slice(0, 8)}-${log.name}` : log.name;
    names.add(name);
    return [
      {
        name,
        bytes,
        mime: "text/csv",
        description: `Log, SHA-256 ${log.sha256}`,
        relationship: "Source" as const,
      },
    ];
  });
  return [
    {
      name: "report.json",
      bytes: utf8(reportJson({ ...bare, plan } as SetupReport)),
      mime: "application/json",
      description: "Setup report",
      relationship: "Data" as const,
    },
    {
      name: `${report.plan.name}.yaml`,
      bytes: utf8(report.plan.text),
      mime: "application/yaml",
      description: "Plan",
      relationship: "Source" as const,
    },
    ...logs,
  ];
}

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

function metadataOf(report: SetupReport) {
  const { id, revision, issued } = report.report;
  return {
    title: `${id} revision ${revision}`,
    author: report.setup.operator ?? "",
    subject: report.plan.title,
    creator: `Plinth ${report.generator.version}`,
    created: issued,
  };
}
