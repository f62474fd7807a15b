// The board's own script: loads the data files one after the other, filters, and draws what fits. Everything that came from a
// log goes into the page as text, never as markup.

const facts = JSON.parse(document.getElementById("facts").textContent);
const form = document.getElementById("filters");
const body = document.querySelector("#rows tbody");
const statusLine = document.getElementById("status");
const more = document.getElementById("more");
/** The page's words, with what varies filled in. */
const say = (key, values = {}) => facts.script[key].replace(/\{(\w+)\}/g, (_, name) => String(values[name]));
const AT_ONCE = 100;
const SPARK_POINTS = 12;

/** Newest first; filled while the data files come. */
const rows = [];
/** Rows of one plan, machine and pallet, newest first. */
const families = new Map();
let found = [];
let shown = 0;
let loaded = 0;
let failedFile = "";

/** Called by each data file. */
globalThis.plinthPage = ({ columns, rows: came }) => {
  for (let i = came.length - 1; i >= 0; i--) {
    const row = Object.fromEntries(columns.map((name, k) => [name, came[i][k]]));
    for (const entry of row.entries) Object.assign(row, entry.corrected);
    row.isVoid = row.entries.some((entry) => entry.kind === "void");
    row.isCorrected = row.entries.some((entry) => entry.kind === "correction");
    row.isOpen =
      row.newer === 0 &&
      row.verdict !== "pass" &&
      !row.entries.some((entry) => entry.kind === "void" || entry.kind === "disposition");
    row.day = row.when.slice(0, 10);
    row.search = [
      ...["id", "title", "plan", "job", "operation", "setup", "machine", "pallet", "fixture", "part"],
      ...["serial", "operator", "verdict", "tightest"],
    ]
      .map((key) => row[key])
      .concat(row.entries.flatMap((entry) => [entry.words, entry.who, entry.why]))
      .join("\n")
      .toLowerCase();
    rows.push(row);
    if (row.newer === 0 && !row.isVoid && row.used !== null) {
      const key = JSON.stringify([row.plan, row.machine, row.pallet]);
      if (!families.has(key)) families.set(key, []);
      row.place = families.get(key).push(row) - 1;
      row.family = families.get(key);
    }
  }
  loaded++;
};

function loadNext() {
  const page = facts.pages[facts.pages.length - 1 - loaded];
  if (page === undefined) return apply(shown);
  const script = document.createElement("script");
  const before = loaded;
  script.src = page.src;
  script.onload = () => {
    script.remove();
    if (loaded === before) return stop(page.src);
    // The newest show at once; the rest when all are there, so that a reader's place does not move.
    if (before === 0) apply();
    loadNext();
  };
  script.onerror = () => stop(page.src);
  document.head.append(script);
}
function stop(src) {
  failedFile = src.replace(/\?.*$/, "");
  apply(shown);
}

/** What the form asks for. */
function wanted() {
  const data = new FormData(form);
  const text = (name) => (data.get(name) ?? "").trim();
  return {
    open: data.get("which") === "open",
    verdicts: new Set(data.getAll("verdict")),
    words: text("text").toLowerCase().split(/\s+/).filter(Boolean),
    job: text("job").toLowerCase(),
    machine: text("machine"),
    pallet: text("pallet"),
    fixture: text("fixture"),
    from: text("from"),
    to: text("to"),
    older: data.get("older") !== null,
  };
}
function fits(row, want) {
  if (row.newer !== 0 && !want.older) return false;
  if (want.open && !row.isOpen) return false;
  if (!want.verdicts.has(row.verdict)) return false;
  if (want.from !== "" && row.day < want.from) return false;
  if (want.to !== "" && row.day > want.to) return false;
  if (want.job !== "" && !row.job.toLowerCase().includes(want.job)) return false;
  for (const key of ["machine", "pallet", "fixture"])
    if (want[key] !== "" && row[key] !== want[key]) return false;
  return want.words.every((word) => row.search.includes(word));
}

/** Filters anew; at least so many rows are shown again, so that a reader's place is kept. */
function apply(atLeast = 0) {
  const want = wanted();
  found = rows.filter((row) => fits(row, want));
  body.replaceChildren();
  shown = 0;
  do showMore();
  while (shown < Math.min(atLeast, found.length));
  const open = rows.filter((row) => row.isOpen).length;
  document.getElementById("open-count").textContent = `(${open})`;
  tellStatus();
}
function tellStatus() {
  const part = found.length > shown ? say("shown", { n: shown }) : "";
  const waiting =
    failedFile !== ""
      ? say("torn", { file: failedFile })
      : rows.length < facts.total
        ? say("loading", { n: facts.total - rows.length })
        : "";
  const count = say(found.length === 1 ? "one" : "many", { n: found.length });
  statusLine.textContent = facts.total === 0 ? say("none") : `${count}${part}.${waiting}`;
}
function showMore() {
  const next = found.slice(shown, shown + AT_ONCE);
  body.append(...next.map(rowElement));
  shown += next.length;
  more.hidden = shown >= found.length;
  return next;
}

/** An element with text or elements in it; never markup. */
function make(name, attributes, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

function rowElement(row) {
  const name = encodeURIComponent(row.name);
  const has = (ending) => row.pages.includes(ending);
  const link = (href, text, label) =>
    make("a", { href, "aria-label": say("of", { what: label, id: row.id }) }, text);
  const best = has("html") ? `${name}.html` : has("pdf") ? `${name}.pdf` : `${name}.json`;
  const classes = [
    row.isOpen ? "needs" : "",
    row.isVoid ? "is-void" : "",
    row.newer !== 0 ? "older" : "",
  ].filter(Boolean);
  const places = [row.machine, row.pallet, row.fixture].filter(Boolean).join(", ");
  return make(
    "tr",
    classes.length > 0 ? { class: classes.join(" ") } : {},
    make("td", {}, verdictMark(row), ...verdictLines(row)),
    make(
      "th",
      { scope: "row" },
      make("a", { href: best }, row.title || row.id),
      make("span", { class: "line" }, `${row.id} r${row.revision}`),
      ...row.entries.map(entryLine),
    ),
    make(
      "td",
      { "data-label": facts.labels.job },
      [row.job || "–", row.operation].filter(Boolean).join(" / "),
    ),
    make("td", { "data-label": facts.labels.places }, places || "–"),
    make("td", { "data-label": facts.labels.issued }, make("time", { datetime: row.issued }, row.when)),
    make("td", { "data-label": facts.labels.used }, ...sparkline(row)),
    make(
      "td",
      { class: "files", "data-label": facts.labels.files },
      ...(has("pdf") ? [link(`${name}.pdf`, "PDF", "PDF")] : []),
      ...(has("html") ? [link(`${name}.html`, "HTML", "HTML")] : []),
      link(`${name}.json`, "JSON", "JSON"),
      ...(row.record
        ? [
            link(
              `../records/${encodeURIComponent(row.record)}/manifest.json`,
              say("record"),
              say("jobRecord"),
            ),
          ]
        : []),
    ),
  );
}
function verdictMark(row) {
  const mark = make("i", { class: `shape shape-${row.verdict}`, "aria-hidden": "true" });
  return make("span", { class: `verdict-word is-${row.verdict}` }, mark, facts.words[row.verdict]);
}
function verdictLines(row) {
  const lines = [
    row.isVoid ? say("void") : "",
    row.newer !== 0 ? say("replaced", { n: row.newer }) : "",
    row.missing > 0 ? say("incomplete", { n: row.missing }) : "",
    row.fail > 0 ? say("failed", { n: row.fail }) : "",
    row.undecided > 0 ? say("undecided", { n: row.undecided }) : "",
    row.isCorrected ? say("corrected") : "",
  ];
  return lines.filter(Boolean).map((text) => make("span", { class: "line" }, text));
}
const entryLine = (entry) =>
  make(
    "span",
    { class: "entry" },
    `${entryWords(entry)}: ${entry.why} (${entry.who}, ${entry.made.slice(0, 10)})`,
  );
/** `disposition: rework (flat-0)` or `correction: pallet is 9` in the page's language. */
function entryWords({ kind, words, corrected }) {
  const own = facts.entryKinds[kind] ?? kind;
  if (kind === "correction") {
    const each = Object.entries(corrected).map(([key, value]) => say("corrects", { key, value }));
    return `${own}: ${each.join(", ")}`;
  }
  return words.replace(/^(\w+)(?:: ([\w-]+))?/, (_, __, next) =>
    next === undefined ? own : `${own}: ${facts.decisions[next] ?? next}`,
  );
}

const SVG = "http://www.w3.org/2000/svg";
function drawn(name, attributes) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  return made;
}
/** How much of its tolerance the tightest result took, in this setup and those like it before. */
function sparkline(row) {
  if (row.used === null) return ["–"];
  const series =
    row.family === undefined ? [row] : row.family.slice(row.place, row.place + SPARK_POINTS).reverse();
  const percent = (used) => `${Math.round(used * 100)} %`;
  const words = `${percent(row.used)} (${row.tightest})`;
  if (series.length < 2) return [words];
  const top = Math.max(1.1, ...series.map(({ used }) => used));
  const x = (i) => 3 + (i / (series.length - 1)) * 94;
  const y = (used) => 24 - (used / top) * 22;
  const at = series.map(({ used }, i) => [x(i).toFixed(1), y(used).toFixed(1)]);
  const svg = drawn("svg", {
    class: "spark",
    viewBox: "0 0 100 26",
    role: "img",
    "aria-label": say("spark", { list: series.map(({ used }) => percent(used)).join(", ") }),
  });
  const [lastX, lastY] = at[at.length - 1];
  svg.append(
    drawn("path", { class: "limit", d: `M0 ${y(1).toFixed(1)}H100` }),
    drawn("path", { d: `M${at.map((one) => one.join(" ")).join("L")}` }),
    drawn("circle", { cx: lastX, cy: lastY, r: 2.6 }),
  );
  return [svg, make("span", { class: "line" }, words)];
}

/** Filters stand in the address, so that a view can be sent to somebody. */
function remember() {
  const data = new URLSearchParams();
  for (const [key, value] of new FormData(form)) if (value !== "") data.append(key, value);
  try {
    history.replaceState(null, "", `#${data}`);
  } catch {
    // Some browsers forbid it for pages opened from disk.
  }
}
function recall() {
  const data = new URLSearchParams(location.hash.slice(1));
  if ([...data.keys()].length === 0) return;
  for (const field of form.elements) {
    if (!field.name) continue;
    if (field.type === "checkbox" || field.type === "radio")
      field.checked = data.getAll(field.name).includes(field.value);
    else field.value = data.get(field.name) ?? "";
  }
  if (form.querySelector("[name=which]:checked") === null) form.elements.which[0].checked = true;
}

for (const [name, values] of [
  ["machine", facts.machines],
  ["pallet", facts.pallets],
  ["fixture", facts.fixtures],
])
  form.elements[name].append(...values.map((value) => make("option", { value }, value)));

let typing = 0;
form.addEventListener("input", () => {
  clearTimeout(typing);
  typing = setTimeout(() => {
    apply();
    remember();
  }, 80);
});
form.addEventListener("reset", () =>
  setTimeout(() => {
    apply();
    remember();
  }),
);
form.addEventListener("submit", (event) => event.preventDefault());
more.addEventListener("click", () => {
  const next = showMore();
  tellStatus();
  const [first] = next;
  if (first !== undefined) body.children[shown - next.length]?.querySelector("a")?.focus();
});
document.addEventListener("keydown", (event) => {
  if (event.key !== "/" || /^(INPUT|SELECT|TEXTAREA)$/.test(document.activeElement?.tagName ?? "")) return;
  event.preventDefault();
  form.elements.text.focus();
});
recall();
loadNext();
