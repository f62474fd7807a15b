import type { HTMLElement } from "node-html-parser";

/** The touches that a picture shows, in the order of their lines in the log where it says them. */
export function touchesOf(svg: HTMLElement) {
  const found = svg.querySelectorAll(".touches").flatMap((path) => {
    const lines = path.getAttribute("data-lines")?.split(" ");
    const filled = path.classList.contains("filled");
    const places = [...(path.getAttribute("d") ?? "").matchAll(/M(-?[\d.]+) (-?[\d.]+)h/g)];
    if (lines !== undefined && lines.length !== places.length) throw new Error("lines and dots differ");
    return places.map(([, x, y], i) => ({ x: Number(x), y: Number(y), filled, line: Number(lines?.[i]) }));
  });
  return found.sort((a, b) => a.line - b.line || 0);
}
