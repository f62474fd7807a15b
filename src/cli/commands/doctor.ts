import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { VERSION } from "../../model/version.ts";
import { shippedText } from "../../records/assets.ts";
import { diskEffects } from "../../records/diskEffects.ts";
import { DISK_FULL, EXIT, isFull } from "../errors.ts";
import { print, printStyle, safe, table } from "../output.ts";
import { freeMegabytes, workspaceChecks } from "./workspaceChecks.ts";

export interface DoctorOptions {
  readonly out?: string;
  readonly workspace?: string;
  readonly json?: true;
  readonly quiet?: true;
}
export interface Check {
  readonly what: string;
  readonly works: boolean;
  readonly found: string;
}

const LOW_DISK_MB = 500;
// Earlier than the first release: a clock that says so was reset.
const EARLIEST_CLOCK = Date.parse("2026-01-01T00:00:00Z");

/** `plinth doctor`: what works, and what to do about what does not. */
export async function doctor(options: DoctorOptions): Promise<void> {
  const places = [options.out, options.workspace].filter((place) => place !== undefined);
  const checks = [
    version(),
    await templates(),
    ...(await placeChecks(places.length > 0 ? places : ["reports"])),
    clock(),
    ...(options.workspace === undefined ? [] : await workspaceChecks(options.workspace)),
    ...(await browser()),
  ];
  const broken = checks.filter((check) => !check.works);
  if (options.json) print(JSON.stringify(checks, null, 1));
  else if (options.quiet) for (const check of broken) print(safe(`${check.what}: ${check.found}`));
  else {
    const style = printStyle();
    print(
      safe(
        table(
          [{ title: "" }, { title: "what" }, { title: "found" }],
          checks.map((check) => [check.works ? "ok" : "MEND", check.what, check.found]),
          style.window,
        ),
      ),
    );
    print(
      style.bold(
        broken.length === 0
          ? "\nEverything works."
          : `\n${broken.length} to mend: ${broken.map((check) => check.what).join(", ")}.`,
      ),
    );
  }
  process.exitCode = broken.length > 0 ? EXIT.unreachable : EXIT.done;
}

const version = (): Check => ({
  what: "version",
  works: true,
  found: `Plinth ${VERSION}, Node ${process.versions.node}, ${process.platform} ${process.arch}`,
});

async function templates(): Promise<Check> {
  try {
    await shippedText("templates/setup-report.hbs");
    return { what: "templates", works: true, found: "there" };
  } catch {
    return { what: "templates", works: false, found: "missing from the installation; install Plinth again" };
  }
}

/** Each folder that is written to, and the disk it lies on: a workspace may lie on another one than this folder. */
async function placeChecks(places: readonly string[]): Promise<Check[]> {
  const checks: Check[] = [];
  for (const place of places) checks.push(await folder(place), await disk(place));
  return checks;
}

/** Writes a file where reports would go, or in the nearest folder above that is there. */
async function folder(out: string): Promise<Check> {
  const place = await nearest(out);
  try {
    const probe = await mkdtemp(join(place, ".plinth-doctor-"));
    try {
      await writeFile(join(probe, "probe"), "probe");
    } finally {
      await rm(probe, { recursive: true });
    }
    return { what: "folder", works: true, found: `${resolve(out)} can be written` };
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    const todo = isFull(error) ? `${DISK_FULL}, or name another one` : "ask for write access or use --out";
    return { what: "folder", works: false, found: `${place} cannot be written (${code}); ${todo}` };
  }
}

async function disk(out: string): Promise<Check> {
  const freeMb = await freeMegabytes(await nearest(out));
  const works = freeMb >= LOW_DISK_MB;
  const there = `${freeMb} MB free on the disk of ${resolve(out)}`;
  const room = `make room for at least ${LOW_DISK_MB} MB`;
  const found = works
    ? there
    : freeMb === 0
      ? `the disk is full: less than 1 MB free on the disk of ${resolve(out)}; ${room}`
      : `only ${there}; ${room}`;
  return { what: "disk", works, found };
}

async function nearest(out: string): Promise<string> {
  const effects = diskEffects();
  let place = resolve(out);
  while (!(await effects.exists(place)) && dirname(place) !== place) place = dirname(place);
  return place;
}

function clock(): Check {
  const now = Date.now();
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const works = now >= EARLIEST_CLOCK;
  const time = new Date(now).toISOString();
  return {
    what: "clock",
    works,
    found: works ? `${time}, zone ${zone}` : `${time} is in the past; set the clock, reports carry its time`,
  };
}

async function browser(): Promise<Check[]> {
  const { openPrinter, printTestPage } = await import("../../report/print.ts");
  const printer = await openPrinter();
  if (!printer.available) return [{ what: "browser", works: false, found: printer.sentence }];
  try {
    const { executable, version: browserVersion, why, sandbox } = printer.browser;
    const test = await printTestPage(printer);
    return [
      { what: "browser", works: true, found: `${executable} ${browserVersion ?? ""}`.trim() },
      { what: "why this one", works: true, found: why },
      { what: "sandbox", works: true, found: sandbox ? "on" : "off" },
      {
        what: "test page",
        works: test.ok,
        found: test.ok ? `printed, ${test.bytes} bytes, text found` : test.sentence,
      },
    ];
  } finally {
    await printer.close();
  }
}
