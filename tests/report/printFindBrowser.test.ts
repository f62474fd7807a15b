import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { cacheFolders } from "../../src/report/print/cacheFolders.ts";
import { findBrowser } from "../../src/report/print/findBrowser.ts";
import { installedPlaces } from "../../src/report/print/installedBrowser.ts";

const folder = mkdtempSync(join(tmpdir(), "plinth-find-"));
const programs = ["settings", "own", "other", "installed"].map((name) => join(folder, name));
for (const path of programs) writeFileSync(path, "");
const [settings = "", own = "", other = "", installed = ""] = programs;
afterAll(() => rmSync(folder, { recursive: true }));

const none = { bundled: null, places: [] };
const env = { PLINTH_BROWSER: own, PUPPETEER_EXECUTABLE_PATH: other };

describe("finding a browser", () => {
  it("takes the settings before the environment, and PLINTH_BROWSER before the other variable", async () => {
    expect(await findBrowser({ ...none, configured: settings, env })).toMatchObject({
      executable: settings,
      source: "settings",
      version: null,
    });
    expect(await findBrowser({ ...none, env })).toMatchObject({ executable: own, source: "environment" });
    const { PLINTH_BROWSER: _left, ...rest } = env;
    expect(await findBrowser({ ...none, env: rest })).toMatchObject({
      executable: other,
      source: "environment",
    });
  });

  it("does not fall through when a named path is not there or is a folder", async () => {
    const gone = join(folder, "gone");
    const rest = { ...none, places: [installed] };
    const bySettings = await findBrowser({ ...rest, configured: gone, env });
    expect(bySettings).toEqual({
      missing: expect.stringContaining(`named in the settings, ${gone}, is not there`),
    });
    const byVariable = await findBrowser({ ...rest, env: { ...env, PLINTH_BROWSER: gone } });
    expect(byVariable).toEqual({ missing: expect.stringMatching(/PLINTH_BROWSER, .*gone, is not there/) });
    mkdirSync(join(folder, "dir"));
    expect(await findBrowser({ ...rest, configured: join(folder, "dir"), env: {} })).toHaveProperty(
      "missing",
    );
  });

  it("takes an installed browser where the bundled one cannot run, and says why", async () => {
    const places = [join(folder, "gone"), installed];
    for (const [platform, arch] of [
      ["win32", "x64"],
      ["darwin", "arm64"],
      ["linux", "arm64"],
    ] as const) {
      const found = await findBrowser({ env: {}, platform, arch, places });
      expect(found).toMatchObject({ executable: installed, source: "installed" });
      expect(found).toHaveProperty("why", expect.stringContaining(`not on ${platform} ${arch}`));
    }
  });

  it("says what to install when there is none", async () => {
    const found = await findBrowser({ env: {}, platform: "darwin", arch: "arm64", places: [] });
    expect(found).toEqual({
      missing: expect.stringContaining("Install Chrome, Edge or Chromium, or set PLINTH_BROWSER"),
    });
    expect(await findBrowser({ ...none, env: {} })).toHaveProperty("missing");
  });

  it("plans the sandbox for everybody but root", async () => {
    const search = { ...none, env, configured: settings };
    expect(await findBrowser({ ...search, userId: 0 })).toHaveProperty("sandbox", false);
    expect(await findBrowser({ ...search, userId: 1000 })).toHaveProperty("sandbox", true);
  });

  it("looks at the usual places of each system and on the search path", () => {
    expect(installedPlaces({ PATH: "/opt/x:/usr/bin" }, "linux")[0]).toBe("/opt/x/google-chrome-stable");
    expect(installedPlaces({ PATH: "/snap/bin:/usr/bin" }, "linux")[0]).toBe("/usr/bin/google-chrome-stable");
    expect(installedPlaces({ PATH: "/snap/bin:/usr/bin" }, "linux")).toContain("/snap/bin/chromium");
    expect(installedPlaces({ HOME: "/Users/a" }, "darwin")).toContain(
      "/Users/a/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    );
    const windows = installedPlaces({ "ProgramFiles(x86)": "C:\\P (x86)", Path: "D:\\b" }, "win32");
    expect(windows).toContain("C:\\P (x86)\\Microsoft\\Edge\\Application\\msedge.exe");
    expect(windows).toContain("D:\\b\\chrome.exe");
    for (const platform of ["linux", "darwin", "win32"]) {
      const places = installedPlaces({ PATH: "/usr/bin:/usr/bin" }, platform);
      expect(new Set(places).size).toBe(places.length);
    }
  });
});

describe("the folders for an unpacked browser", () => {
  it("follow PLINTH_CACHE alone, else XDG_CACHE_HOME, the home and the temporary folder, kept apart by user", () => {
    expect(cacheFolders({ PLINTH_CACHE: "/a", XDG_CACHE_HOME: "/b" }, 7)).toEqual(["/a"]);
    expect(cacheFolders({ XDG_CACHE_HOME: "/b", HOME: "/h" }, 7)).toEqual([
      join("/b", "plinth"),
      join("/h", ".cache", "plinth"),
      join(tmpdir(), "plinth-7"),
    ]);
  });
});
