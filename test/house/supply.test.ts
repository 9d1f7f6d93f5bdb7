/** Every library that ships is accounted for, and the lock file accepts no bytes but those it knows. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const ROOT = join(import.meta.dirname, "../..");

/** What only builds, and the editor's own module. */
const NOT_SHIPPED = new Set(["vscode", "esbuild", "@vscode/vsce", "sarif"]);

test("every library that a source imports is on the page, and every one on the page is imported", () => {
  const imported = new Set<string>();
  for (const folder of ["grammar", "server", "client"])
    for (const file of readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".ts")))
      for (const [, ...groups] of readFileSync(join(ROOT, folder, file), "utf8").matchAll(/\bfrom "([^"]+)";|^import "([^"]+)";|\bimport\("([^"]+)"\)/gm)) {
        const from = groups.find((group) => group !== undefined) ?? "";
        const name = /^(@[a-z-]+\/[a-z-]+|[a-z][a-z0-9-]*)(?:\/|$)/.exec(from)?.[1];
        if (name !== undefined && !NOT_SHIPPED.has(name)) imported.add(name);
      }
  const page = readFileSync(join(ROOT, "server/SUPPLY.md"), "utf8");
  const listed = page.split("\n").filter((line) => line.startsWith("| `")).flatMap((line) => [...(line.split("|")[1] ?? "").matchAll(/`([^`]+)`/g)].map(([, name]) => name));
  expect(listed.toSorted()).toEqual([...imported].toSorted());
});

test("the manifest has nothing that would be installed beside the bundles", () => {
  const manifest = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")) as Record<string, unknown>;
  expect(manifest["dependencies"] ?? {}).toEqual({});
});

test("the lock file knows every package by a strong checksum, and takes none from a place of its own", () => {
  const lock = JSON.parse(readFileSync(join(ROOT, "package-lock.json"), "utf8")) as { packages: Record<string, { version?: string; integrity?: string; resolved?: string; link?: boolean }> };
  const packages = Object.entries(lock.packages).filter(([path]) => path !== "");
  expect(packages.length).toBeGreaterThan(100);
  for (const [path, { integrity, resolved, link }] of packages) expect([path, integrity?.startsWith("sha512-"), resolved, link]).toEqual([path, true, undefined, undefined]);
});
