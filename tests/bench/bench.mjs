// `npm run bench`: ratios measured side by side in one run, medians of alternating runs. The rival is tests/bench/rival.py.
import { execFileSync, spawn, spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { cpus, tmpdir, totalmem } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("../../", import.meta.url));
const plinth = join(root, "dist/cli/plinth.js");
const rival = fileURLToPath(new URL("rival.py", import.meta.url));
const python = ["/usr/bin/python3", "python3"].find(
  (name) => spawnSync(name, ["-c", "import numpy, scipy, pandas, matplotlib"]).status === 0,
);
if (!existsSync(plinth)) throw new Error("build first: npm run build");
const folder = mkdtempSync(join(tmpdir(), "plinth-bench-"));
const rows = [];

const median = (values) => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
/** Wall seconds and peak memory (MB) of a whole process; GNU time where it is there. */
function run(command, args, env = process.env) {
  const timed = existsSync("/usr/bin/time");
  const memory = join(folder, "memory");
  const begin = process.hrtime.bigint();
  const [program, rest] = timed
    ? ["/usr/bin/time", ["-o", memory, "-f", "%M", command, ...args]]
    : [command, args];
  const done = spawnSync(program, rest, { stdio: "ignore", cwd: folder, env });
  const seconds = Number(process.hrtime.bigint() - begin) / 1e9;
  if (done.status !== 0) throw new Error(`${command} ${args.join(" ")} ended with ${done.status}`);
  return {
    seconds,
    megabytes: timed ? Number(readFileSync(memory, "utf8").trim().split("\n").at(-1)) / 1024 : Number.NaN,
  };
}
/** Runs two commands in turn and gives the medians of both. */
function pair(times, ours, theirs, env) {
  run(...ours, env);
  run(...theirs, env);
  const [a, b] = [[], []];
  for (let i = 0; i < times; i++) {
    a.push(run(...ours, env));
    b.push(run(...theirs, env));
  }
  const of = (list, key) => median(list.map((entry) => entry[key]));
  return {
    ours: { seconds: of(a, "seconds"), megabytes: of(a, "megabytes") },
    theirs: { seconds: of(b, "seconds"), megabytes: of(b, "megabytes") },
  };
}
const row = (work, measured, ratio, goal, unit = "s") =>
  rows.push({
    work,
    ours: `${measured[0].toFixed(3)} ${unit}`,
    against: measured[1] === null ? "-" : `${measured[1].toFixed(3)} ${unit}`,
    ratio: ratio.toFixed(2),
    goal,
    met: goal.startsWith(">") ? ratio >= Number(goal.slice(2)) : ratio <= Number(goal.slice(2)),
  });

function writeLog(name, count, feature = "face") {
  const lines = ["# job: BENCH", "# unit: mm", "# points: surface", "feature,x,y,z"];
  let state = 12345;
  const random = () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
  for (let i = 0; i < count; i++) {
    const [x, y] = [random() * 400 - 200, random() * 400 - 200];
    lines.push(
      `${feature},${x.toFixed(4)},${y.toFixed(4)},${(0.0001 * x + 0.004 * (random() + random() - 1)).toFixed(4)}`,
    );
  }
  const path = join(folder, name);
  writeFileSync(path, `${lines.join("\n")}\n`);
  return path;
}
const planPath = join(folder, "bench.yaml");
writeFileSync(
  planPath,
  `plinth: 1
name: bench
title: Bench
decision: {rule: simple}
features: {face: {fit: plane}}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 1 mm}
`,
);
const node = process.execPath;

/** A short check in an environment. */
function shortCheck(env, where) {
  const small = writeLog("small.csv", 200);
  const check = [node, [plinth, "check", small, "--plan", planPath]];
  const start = pair(25, check, [node, ["-e", "0"]], env);
  row(
    `check of 200 points, whole process, against node -e 0${where}`,
    [start.ours.seconds, start.theirs.seconds],
    start.ours.seconds / start.theirs.seconds,
    "<=2.5",
  );
  if (python === undefined) return;
  const script = pair(25, check, [python, [rival, "check", small]], env);
  row(
    `check of 200 points, against the script${where}`,
    [script.ours.seconds, script.theirs.seconds],
    script.ours.seconds / script.theirs.seconds,
    "<=0.25",
  );
}

function whole() {
  shortCheck(process.env, "");
  // Some environments make node read further certificates at each start, which takes as long as a short check.
  const { NODE_EXTRA_CA_CERTS: certificates, ...bare } = process.env;
  if (certificates !== undefined) shortCheck(bare, ", without NODE_EXTRA_CA_CERTS");
  const large = writeLog("large.csv", 1_000_000);
  const report = [
    node,
    [plinth, "report", large, "--plan", planPath, "--format", "json", "--out", join(folder, "large")],
  ];
  const fresh = [
    node,
    ["-e", `require("fs").rmSync(${JSON.stringify(join(folder, "large"))},{recursive:true,force:true})`],
  ];
  if (python !== undefined) {
    run(...fresh);
    const times = { ours: [], theirs: [] };
    for (let i = 0; i < 3; i++) {
      run(...fresh);
      times.ours.push(run(...report));
      times.theirs.push(run(python, [rival, "json", large, join(folder, "large.json")]));
    }
    const of = (who, key) => median(times[who].map((entry) => entry[key]));
    row(
      "1 000 000 rows to JSON, wall time against the script",
      [of("ours", "seconds"), of("theirs", "seconds")],
      of("ours", "seconds") / of("theirs", "seconds"),
      "<=0.35",
    );
    row(
      "1 000 000 rows to JSON, peak memory against the script",
      [of("ours", "megabytes"), of("theirs", "megabytes")],
      of("ours", "megabytes") / of("theirs", "megabytes"),
      "<=0.6",
      "MB",
    );
  }
  const middle = writeLog("middle.csv", 10_000);
  const time = (path) =>
    median([1, 2, 3].map(() => run(node, [plinth, "check", path, "--plan", planPath, "--quiet"]).seconds));
  const [short, long] = [time(middle), time(large)];
  row("growth from 1e4 to 1e6 rows, log-log slope", [long, short], Math.log10(long / short) / 2, "<=1.05");
}

async function zones() {
  if (python === undefined) return;
  const { zonePlane, zoneCircle, fitPlane, seededNoise } = await sources(
    "zones",
    `export { zonePlane, zoneCircle } from "./src/math/zones/index.ts"; export { fitPlane } from "./src/math/fitPlane.ts"; export { seededNoise } from "./src/math/seededNoise.ts";`,
  );
  const noise = seededNoise(7);
  const columns = (n, make) => {
    const out = { x: new Float64Array(n), y: new Float64Array(n), z: new Float64Array(n) };
    for (let i = 0; i < n; i++) [out.x[i], out.y[i], out.z[i]] = make();
    return out;
  };
  const plate = columns(100_000, () => [
    noise.between(-100, 100),
    noise.between(-100, 100),
    0.002 * noise.normal(),
  ]);
  const ring = columns(10_000, () => {
    const [a, r] = [noise.between(0, 2 * Math.PI), 50 + 0.002 * noise.normal()];
    return [r * Math.cos(a), r * Math.sin(a), 0];
  });
  const timeOf = (work) => {
    work();
    return median(
      [1, 2, 3, 4, 5].map(() => {
        const begin = process.hrtime.bigint();
        work();
        return Number(process.hrtime.bigint() - begin) / 1e9;
      }),
    );
  };
  const scipy = (kind, count) =>
    median(
      [1, 2, 3].map(
        () =>
          JSON.parse(execFileSync(python, [rival, "zone", kind, String(count)], { encoding: "utf8" }))
            .seconds,
      ),
    );
  const flat = timeOf(() => zonePlane(plate, { about: fitPlane(plate).direction }));
  const round = timeOf(() => zoneCircle({ x: ring.x, y: ring.y }, { start: [0, 0] }));
  const [theirFlat, theirRound] = [scipy("plane", 100_000), scipy("circle", 10_000)];
  row(
    "exact flatness of 100 000 points, against scipy with HiGHS",
    [flat, theirFlat],
    flat / theirFlat,
    "<=0.05",
  );
  row(
    "minimum-zone circle of 10 000 points, against scipy with HiGHS",
    [round, theirRound],
    round / theirRound,
    "<=0.05",
  );
}

/** A bundle of what `contents` exports from the sources. */
async function sources(name, contents) {
  const outfile = join(root, "node_modules/.cache", `plinth-bench-${process.pid}-${name}.mjs`);
  await build({
    stdin: { contents, resolveDir: root, loader: "ts" },
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    packages: "external",
    logLevel: "error",
  });
  try {
    return await import(pathToFileURL(outfile).href);
  } finally {
    rmSync(outfile);
  }
}

async function manyReports() {
  const logs = join(folder, "hundred");
  mkdirSync(logs);
  mkdirSync(join(folder, "rival"));
  for (let i = 0; i < 100; i++) {
    const text = readFileSync(writeLog("one.csv", 100 + i), "utf8").replace("# job: BENCH", `# job: B-${i}`);
    writeFileSync(join(logs, `log-${i}.csv`), text);
  }
  const out = join(folder, "pdfs");
  const [ours, theirs] = [[], []];
  for (let i = 0; i < 3; i++) {
    rmSync(out, { recursive: true, force: true });
    ours.push(run(node, [plinth, "report", logs, "--plan", planPath, "--out", out]).seconds);
    if (python !== undefined) theirs.push(run(python, [rival, "pdfs", logs, join(folder, "rival")]).seconds);
  }
  const seconds = median(ours);
  if (python !== undefined)
    row(
      "100 setups to 100 PDFs in one run, against the script",
      [seconds, median(theirs)],
      seconds / median(theirs),
      "<=0.5",
    );
  const ready = await printReady(out);
  row(
    "rate of that run against the same browser printing the same ready pages",
    [seconds, ready],
    ready / seconds,
    ">=0.8",
  );
}

/** Seconds for the pages that are in a folder as HTML, set and printed one after the other in one page of the browser. */
async function printReady(out) {
  const { findBrowser, startBrowser } = await sources(
    "print",
    `export { findBrowser } from "./src/report/print/findBrowser.ts"; export { startBrowser } from "./src/report/print/browserProcess.ts";`,
  );
  const pages = readdirSync(out)
    .filter((name) => name.endsWith(".html"))
    .map((name) => readFileSync(join(out, name), "utf8"));
  const { browser, close } = await startBrowser(await findBrowser({}), 60_000);
  try {
    const page = await browser.newPage();
    await page.setJavaScriptEnabled(false);
    const print = async (html) => {
      await page.setContent(html, { waitUntil: "load" });
      await page.pdf({ preferCSSPageSize: true, printBackground: true, tagged: true, outline: true });
    };
    await print(pages[0]);
    const begin = process.hrtime.bigint();
    for (const html of pages) await print(html);
    return Number(process.hrtime.bigint() - begin) / 1e9;
  } finally {
    await close();
  }
}

/** A watcher that has nothing to do, where the system tells its time and memory. */
async function idleWatch() {
  if (!existsSync("/proc/self/stat")) return;
  const workspace = join(folder, "workspace");
  run(node, [plinth, "init", workspace]);
  const watcher = spawn(node, [plinth, "watch", "--workspace", workspace], { stdio: "ignore" });
  try {
    const ticks = () => {
      const fields = readFileSync(`/proc/${watcher.pid}/stat`, "utf8").split(") ")[1].split(" ");
      return Number(fields[11]) + Number(fields[12]);
    };
    // What the start left behind is cleared away in the first seconds.
    await sleep(12_000);
    const before = ticks();
    await sleep(30_000);
    // The system counts in hundredths of a second.
    const busy = (ticks() - before) / 100;
    const status = readFileSync(`/proc/${watcher.pid}/status`, "utf8");
    const megabytes = Number(/VmHWM:\s+(\d+)/.exec(status)[1]) / 1024;
    row("idle watch, processor time of 30 s (0.5 % counts as none)", [busy, null], busy / 30, "<=0.005");
    row("idle watch, peak memory of 120 MB", [megabytes, null], megabytes / 120, "<=1", "MB");
  } finally {
    watcher.kill();
  }
}

try {
  if (python === undefined)
    console.log(
      "The rival script needs Debian's python3-numpy, python3-scipy, python3-pandas and python3-matplotlib; its rows are left out.",
    );
  whole();
  await zones();
  await manyReports();
  await idleWatch();
  console.log(
    `Node ${process.versions.node}, ${process.platform} ${process.arch}, ${cpus().length} x ${cpus()[0]?.model ?? "processor"}, ${Math.round(totalmem() / 2 ** 30)} GB, ${new Date().toISOString().slice(0, 10)}`,
  );
  console.table(rows);
} finally {
  rmSync(folder, { recursive: true });
}
