/**
 * Packs the built extension into dist/tappet.vsix and says how large it is, with --sizes what each kilobyte is; never downloads anything.
 *
 * What ships is what .vscodeignore lets through, laid out in a folder of its own with a trimmed manifest. Two reasons:
 * the project is an ES-module package, and an editor's web worker host refuses every extension whose manifest says so;
 * and scripts and development dependencies are no business of whoever installs it.
 */
import { cpSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { createVSIX, listFiles, PackageManager } from "@vscode/vsce";
import { type Shares, sizeTable } from "./sizes.ts";

const root = join(import.meta.dirname, "..");
const stage = join(root, "dist", "package");
const packagePath = join(root, "dist", "tappet.vsix");
/** The project's own target: a build spec tool is no large thing to download over a workshop's connection. */
const largest = 1.5e6;

const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as Record<string, unknown>;
for (const key of ["type", "scripts", "bin", "dependencies", "devDependencies", "allowScripts", "private"]) delete manifest[key];

rmSync(stage, { recursive: true, force: true });
for (const file of await listFiles({ cwd: root, packageManager: PackageManager.None })) {
  mkdirSync(dirname(join(stage, file)), { recursive: true });
  cpSync(join(root, file), join(stage, file));
}
writeFileSync(join(stage, "package.json"), `${JSON.stringify(manifest, null, 2)}\n`);

// Without an ignore file the packer warns that everything ships, which here is the point.
writeFileSync(join(stage, ".vscodeignore"), "");

await createVSIX({ cwd: stage, packagePath, dependencies: false, rewriteRelativeLinks: false });

const { size } = statSync(packagePath);
if (process.argv.includes("--sizes")) console.log(`${sizeTable(stage, JSON.parse(readFileSync(join(root, "dist", "shares.json"), "utf8")) as Readonly<Record<string, Shares>>)}\n`);
console.log(`dist/tappet.vsix is ${(size / 1e3).toFixed(0)} kB.`);
if (size > largest) {
  console.error(`That is more than the ${(largest / 1e6).toFixed(1)} MB that Tappet allows itself.`);
  process.exit(1);
}
