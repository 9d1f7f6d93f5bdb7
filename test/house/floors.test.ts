// The order of the floors, as a table: each imports only from floors below it, and no file imports itself in a circle.
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { expect, test } from "vitest";

const root = join(import.meta.dirname, "..", "..");
const FLOORS = [
  "grammar", "server/quantity", "server/engineering", "server/schema", "server/recording", "server/model", "server/sheet", "server/rules", "server/drawings",
  "server/report", "server/workspace", "server/editor",
] as const;
/** Doors, and scripts that developers run. They may import anything below. */
const isDoor = (path: string) => /^server\/[^/]+\.ts$/.test(path) || /\/write-[^/]+\.ts$/.test(path);
/** Only these touch files, processes or the clock. */
const MAY_TOUCH_NODE = (path: string) => isDoor(path) || /^server\/workspace\/disk-[^/]+\.ts$/.test(path);

function filesBelow(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" }).filter((f) => f.endsWith(".ts")).map((f) => join(folder, f).replaceAll("\\", "/"));
}

const files = ["grammar", "server"].flatMap(filesBelow);
const imports = new Map(
  files.map((file) => {
    const text = readFileSync(join(root, file), "utf8");
    return [file, [...text.matchAll(/(?:^|\n)\s*(?:import|export)\b[^"';]*?from\s+"([^"]+)"|import\("([^"]+)"\)/g)].map((m) => (m[1] ?? m[2]) as string)] as const;
  }),
);
const resolved = (file: string, target: string) => relative(root, resolve(root, dirname(file), target)).replaceAll("\\", "/");
const floorOf = (path: string) => FLOORS.findIndex((floor) => path.startsWith(`${floor}/`));

test("there is something to look at", () => {
  expect(files.length).toBeGreaterThan(100);
  expect(FLOORS.every((floor) => floor === "server/drawings" || files.some((f) => f.startsWith(`${floor}/`)))).toBe(true);
});

test("each floor imports only from floors below it", () => {
  const wrong: string[] = [];
  for (const [file, targets] of imports) {
    if (isDoor(file)) continue;
    for (const target of targets.filter((t) => t.startsWith("."))) {
      const to = resolved(file, target);
      if (floorOf(to) < 0 || floorOf(to) > floorOf(file)) wrong.push(`${file} -> ${to}`);
    }
  }
  expect(wrong).toEqual([]);
});

test("below the doors nothing imports Node, the editor or a connection", () => {
  const wrong: string[] = [];
  for (const [file, targets] of imports)
    for (const target of targets.filter((t) => !t.startsWith("."))) {
      if (target.startsWith("node:") && !MAY_TOUCH_NODE(file)) wrong.push(`${file} -> ${target}`);
      if (target === "vscode" || (target.startsWith("vscode-") && !isDoor(file) && file !== "server/editor/protocol.ts")) wrong.push(`${file} -> ${target}`);
      if (target === "chevrotain" && !file.startsWith("grammar/")) wrong.push(`${file} -> ${target}`);
    }
  expect(wrong).toEqual([]);
});

test("no imports go in a circle", () => {
  const circles: string[] = [];
  const state = new Map<string, "open" | "done">();
  const visit = (file: string, trail: readonly string[]) => {
    if (state.get(file) === "done") return;
    if (state.get(file) === "open") {
      circles.push([...trail.slice(trail.indexOf(file)), file].join(" -> "));
      return;
    }
    state.set(file, "open");
    // Types alone make no circle at run time, but they make one for the reader.
    for (const target of imports.get(file) ?? []) if (target.startsWith(".")) visit(resolved(file, target), [...trail, file]);
    state.set(file, "done");
  };
  for (const file of files) visit(file, []);
  expect(circles).toEqual([]);
});
