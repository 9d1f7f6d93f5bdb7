// Why a figure or value is what it is, on the hill-climb sample put right.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { type Why, whyOf, whyText } from "../../server/report/why.ts";
import { buildSheet } from "../../server/workspace/build-sheet.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";

const SAMPLES = join(import.meta.dirname, "..", "..", "samples");
const read = (name: string) => [`file:///s/${name}`, readFileSync(join(SAMPLES, name), "utf8")] as const;
const uri = "file:///s/builds/wren-hill-3.tappet";

async function why(path: string) {
  const names = ["builds/wren-hill-3.tappet", "parts/ridgeway.tappet", "engines/dunlin-18.tappet", "shop.tappet"];
  const { readdirSync } = await import("node:fs");
  const all = new Set([...names, ...readdirSync(join(SAMPLES, "parts")).map((f) => `parts/${f}`)]);
  const project = await loadProject(memoryHost(Object.fromEntries([...all].map(read))), [uri]);
  const made = buildSheet(project, uri, { nameOf: (u) => u.slice("file:///s/".length), asOf: "2027-12-01" });
  if ("refusal" in made) throw new Error(made.refusal);
  return { answer: whyOf(made.input.sheet, made.input.atlas, path), build: made.input.build };
}

async function known(path: string): Promise<Why> {
  const { answer } = await why(path);
  if ("refusal" in answer) throw new Error(answer.refusal);
  return answer;
}

describe("why", () => {
  test("gives a figure's chain: measured, chosen, asked, and what was taken off", async () => {
    const lash = await known("valve-gear.intake.lash");
    expect(lash.value).toBe("0.20 mm cold");
    expect(lash.chain.filter((l) => l.sort !== "measured").map((l) => [l.sort, l.value, l.counts, l.file])).toEqual([
      ["chosen", "0.20 mm cold", true, "builds/wren-hill-3.tappet"],
      ["asked", "0.20 ± 0.02 mm cold", false, "parts/ridgeway.tappet"],
      ["asked", "0.15 ± 0.03 mm cold", false, "engines/dunlin-18.tappet"],
    ]);
    expect(lash.chain.filter((l) => l.sort === "measured").length).toBeGreaterThanOrEqual(8);
    expect(lash.dependents.map((d) => d.id)).toContain("lift.intake.net");
  });

  test("gives newest readings first", async () => {
    const dates = (await known("valve-gear.intake.lash")).chain.filter((l) => l.sort === "measured").map((l) => /\d{4}-\d{2}-\d{2}/.exec(l.words)?.[0] ?? "");
    expect(dates).toEqual([...dates].sort().reverse());
    expect(new Set(dates).size).toBeGreaterThan(1);
  });

  test("gives a value's formula with its numbers, and what rests on the value through others", async () => {
    const volume = await known("clearance-volume");
    expect(volume.worked).toContain("44.6 cc");
    expect(volume.dependents.map((d) => d.id)).toContain("compression.static");
    const bore = await known("bore");
    expect(bore.dependents.map((d) => d.id)).toEqual(expect.arrayContaining(["displacement.total", "compression.static"]));
  });

  test("names what is missing, and what was probably meant", async () => {
    const { answer } = await why("compresion.static");
    expect(answer).toEqual({ refusal: expect.stringContaining("compression.static") });
  });

  test("prints lines with file and line number", async () => {
    const { answer, build } = await why("valve-gear.intake.lash");
    if ("refusal" in answer) throw new Error(answer.refusal);
    expect(whyText(answer, build)).toMatch(/asked for by Ridgeway 272, replaced, from cam card in the box \(parts\/ridgeway\.tappet:\d+\)/);
  });
});
