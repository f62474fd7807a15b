// The units of the README: complete, catching up on a missed night, and every command line in them one that the program takes.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openProgram, type Program, ROOT } from "./plinth.ts";

let plinth: Program;
beforeAll(() => {
  plinth = openProgram();
});
afterAll(() => plinth.remove());

const README = readFileSync(join(ROOT, "README.md"), "utf8");
const units = [...README.matchAll(/```ini\n([\s\S]*?)```/g)].map(([, text = ""]) => text);
/** Keys and values of a unit by section. */
function sectionsOf(unit: string): Record<string, Record<string, string>> {
  const sections: Record<string, Record<string, string>> = {};
  let name = "";
  for (const line of unit.trim().split("\n")) {
    const heading = /^\[(\w+)\]$/.exec(line)?.[1];
    if (heading !== undefined) name = heading;
    const [, key, value] = /^(\w+)=(.+)$/.exec(line) ?? [];
    if (key !== undefined && value !== undefined) sections[name] = { ...sections[name], [key]: value };
    expect([line, heading !== undefined || key !== undefined]).toEqual([line, true]);
  }
  return sections;
}

describe("the units of the README", () => {
  it("are a service that starts again, a run of the night, and a timer that catches up", () => {
    expect(units).toHaveLength(3);
    const [watch, night, timer] = units.map(sectionsOf);
    expect(watch).toMatchObject({
      Service: { Restart: "on-failure", User: "plinth", ExecStart: expect.stringMatching(/ watch /) },
      Install: { WantedBy: "multi-user.target" },
    });
    expect(night).toMatchObject({
      Service: { Type: "oneshot", ExecStart: expect.stringMatching(/ nightly /) },
    });
    expect(timer).toMatchObject({ Timer: { Persistent: "true" }, Install: { WantedBy: "timers.target" } });
    expect(timer?.Timer?.OnCalendar).toMatch(/^\*-\*-\* \d\d:\d\d$/);
    const [, cron = ""] = /cron: `([^`]*)`/.exec(README) ?? [];
    expect(cron).toMatch(/^[0-5]?\d ([01]?\d|2[0-3]) \* \* \* \/\S+ \S+\/plinth\.js nightly /);
    // In a crontab an unescaped percent sign is a line end.
    expect(cron).not.toContain("%");
    expect(README).toMatch(/schtasks \/create \/tn "[^"]+" \/sc daily \/st \d\d:\d\d \/tr "[^"]+"/);
  });

  it("call the program as it can be called", async () => {
    const lines = [...README.matchAll(/plinth\.js ((?:watch|nightly)[^`"\n]*)/g)].map(
      ([, given = ""]) => given,
    );
    expect(lines).toHaveLength(4);
    const shop = join(plinth.folder(), "shop");
    await plinth.run(["init", shop]);
    for (const line of lines) {
      const given = line
        .trim()
        .split(/ +/)
        .map((word) => (/^(\/srv|\\\\server)/.test(word) ? shop : word));
      const { code, err } = await plinth.run([...given, ...(given[0] === "watch" ? ["--once"] : [])], {
        env: { PLINTH_BROWSER: "/nowhere" },
      });
      // Without a browser the night says so with 4; a wrong option would be 2.
      expect([line, code, /usage|unknown/.test(err)]).toEqual([line, given[0] === "watch" ? 0 : 4, false]);
    }
  });
});
