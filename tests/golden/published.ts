// Logs made from published measured data; the figures stay as the sources print them.
import zones from "../references/zones.json" with { type: "json" };

const MICROMETRES_PER_INCH = 25_400;
const pointsOf = (id: string): number[][] => zones.find((entry) => entry.id === id)?.points ?? [];
const header = (instrument: string, what: string): string =>
  `# job: PUBLISHED\n# operation: 1\n# plan: published-data\n# instrument: ${instrument}\n# note: ${what}\n`;

/** Heights of a surface plate, 32 by 40 stations along eight lines; Moody (1955), as corrected by Allen (2019). */
function plate(): string {
  const rows = pointsOf("plate-moody-1955").map(([x = 0, y = 0, height = 0]) => {
    const [stationX, stationY] = [x / MICROMETRES_PER_INCH, y / MICROMETRES_PER_INCH];
    return `plate,${stationX},${stationY},${(height / MICROMETRES_PER_INCH).toFixed(11)}\n`;
  });
  return `${header("level-1955", "J. C. Moody, The Tool Engineer, October 1955, heights as corrected by B. Allen, 2019")}# unit: in\n# sign: toward-plus\nsweep,x,y,reading\n${rows.join("")}`;
}

/** The plane that the plate's heights count from. */
const reference = (): string =>
  `${header("level-1955", "the plane that the heights of the plate count from")}# unit: in\n# points: surface\nfeature,x,y,z\n${["-32,-20", "32,-20", "0,20", "0,0"].map((place) => `reference,${place},0\n`).join("")}`;

function line(): string {
  const rows = pointsOf("strip-pearson-1901").map(([x, y]) => `line,${x},${y}\n`);
  return `${header("table-1901", "K. Pearson, Philosophical Magazine 2, 1901, table on page 571, read as mm")}# unit: mm\n# sign: toward-plus\nsweep,position,reading\n${rows.join("")}`;
}

function ring(): string {
  const rows = pointsOf("zones-cookbook-circle").map(([x, y]) => `ring,${x},${y},0\n`);
  return `${header("table-ring", "SciPy Cookbook, Least Squares Circle, points all round, read as mm")}# unit: mm\n# points: surface\nfeature,x,y,z\n${rows.join("")}`;
}

/** Path below sample-logs and text. */
export function publishedLogs(): Readonly<Record<string, string>> {
  const folder = "4-published-plate";
  return {
    [`${folder}/plate-1955.csv`]: plate(),
    [`${folder}/reference-plane.csv`]: reference(),
    [`${folder}/line-1901.csv`]: line(),
    [`${folder}/ring.csv`]: ring(),
  };
}
