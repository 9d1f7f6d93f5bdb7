/**
 * What the editor tests need from the machine: an editor server and a browser, installed where that is allowed and named
 * where it is not; knows nothing of the tests.
 *
 * The desktop build of the editor comes from a download site that many build machines cannot reach. The same workbench and
 * the same extension host are in the npm package below, which compiles its native modules against Debian's libraries.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { delimiter, dirname, join } from "node:path";

export type Machine = { readonly serverMain: string; readonly chromium: string };
export type Lack = { readonly missing: string; readonly remedy: string };

const editorPackage = "code-server";
const editorVersion = "4.139.1";

const root = join(import.meta.dirname, "..", "..");
/** Git ignores it; it outlives a build, so the editor is compiled once for a version. */
const cache = join(root, ".cache", `${editorPackage}-${editorVersion}`);
const serverMain = join(cache, "node_modules", editorPackage, "lib", "vscode", "out", "server-main.js");
/** Written last, so that an install that was cut short is begun again. */
const installed = join(cache, "installed");

const librariesToCompile = ["libkrb5-dev", "libx11-dev", "libxkbfile-dev", "libsecret-1-dev"];
const browsers = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome", "/usr/bin/google-chrome-stable"];

/** The machine made ready, or the first thing it lacks and what a person can do about it. */
export function prepareMachine(): Machine | Lack {
  const editorIsHere = existsSync(installed);
  const browserIsHere = findBrowser() !== undefined;
  const packages = [
    ...(editorIsHere ? [] : librariesToCompile.filter((name) => !isDebianPackageInstalled(name))),
    ...(browserIsHere ? [] : ["chromium"]),
  ];
  if (packages.length > 0) {
    const lack = installDebianPackages(packages);
    if (lack) return lack;
  }
  if (!editorIsHere) {
    const lack = installEditor();
    if (lack) return lack;
  }
  const chromium = findBrowser();
  if (!chromium) return { missing: "a Chromium browser", remedy: "Install Debian's chromium, or set CHROMIUM to the path of one." };
  return { serverMain, chromium };
}

/** The Chromium on this machine, if any: CHROMIUM's, or the first of the usual places. */
export function findBrowser(): string | undefined {
  const named = process.env["CHROMIUM"];
  return [...(named ? [named] : []), ...browsers].find((path) => existsSync(path));
}

function isDebianPackageInstalled(name: string): boolean {
  const { stdout } = spawnSync("dpkg-query", ["-W", "-f=${Status}", name], { encoding: "utf8" });
  return stdout?.includes("install ok installed") ?? false;
}

/** Only the superuser of a Debian machine is taken at its word; nobody is asked for a password in the middle of a test run. */
function installDebianPackages(names: readonly string[]): Lack | undefined {
  const remedy = `Run: apt-get update && apt-get install --no-install-recommends ${names.join(" ")}`;
  const missing = `Debian's ${names.join(", ")}`;
  if (process.getuid?.() !== 0 || spawnSync("apt-get", ["--version"]).status !== 0) return { missing, remedy };
  console.log(`Installing ${missing} …`);
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  const updated = spawnSync("apt-get", ["update", "-q"], { stdio: ["ignore", "ignore", "inherit"], env });
  const added = spawnSync("apt-get", ["install", "-q", "-y", "--no-install-recommends", ...names], {
    stdio: ["ignore", "ignore", "inherit"],
    env,
  });
  return updated.status === 0 && added.status === 0 ? undefined : { missing, remedy };
}

function installEditor(): Lack | undefined {
  console.log(`Installing the editor (${editorPackage} ${editorVersion}) into .cache/, once; it takes a minute or two …`);
  rmSync(cache, { recursive: true, force: true });
  mkdirSync(cache, { recursive: true });
  const manifest = { private: true, dependencies: { [editorPackage]: editorVersion }, allowScripts: { [editorPackage]: true, argon2: true } };
  writeFileSync(join(cache, "package.json"), JSON.stringify(manifest));
  // The editor's native modules must be compiled for the Node that runs these tests, so npm must find that one first, and
  // must not be told by the npm that runs this script of the Node that one runs under.
  const inherited = Object.entries(process.env).filter(([name]) => !name.startsWith("npm_"));
  const env = { ...Object.fromEntries(inherited), PATH: `${dirname(process.execPath)}${delimiter}${process.env["PATH"] ?? ""}` };
  const log = join(cache, "install.log");
  const { status, stdout, stderr } = spawnSync("npm", ["install", "--no-audit", "--no-fund", "--loglevel=error"], {
    cwd: cache,
    env,
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  writeFileSync(log, `${stdout}\n${stderr}`);
  if (status !== 0 || !existsSync(serverMain)) {
    console.error(readFileSync(log, "utf8").split("\n").slice(-40).join("\n"));
    return { missing: `the editor (${editorPackage} ${editorVersion} from the npm registry)`, remedy: "See .cache/ for its install log." };
  }
  writeFileSync(installed, editorVersion);
  return undefined;
}
