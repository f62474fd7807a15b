// The references written anew: see `accept.mjs`.
import { readdirSync, rmSync, writeFileSync } from "node:fs";
import { openVisualBench, VISUAL_CASES } from "./cases.ts";

export async function renewReferences(folder: string): Promise<readonly string[]> {
  const bench = await openVisualBench();
  for (const file of readdirSync(folder)) if (file.endsWith(".png")) rmSync(`${folder}${file}`);
  const written: string[] = [];
  for (const one of VISUAL_CASES) {
    const pages = await bench.draw(await bench.page(one), one);
    const name = `${one.name}-${pages.length}.png`;
    writeFileSync(`${folder}${name}`, await bench.drawer.encode(pages));
    written.push(name);
  }
  await bench.close();
  return written;
}
