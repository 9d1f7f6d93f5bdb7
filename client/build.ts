/**
 * Bundles every door and every page into dist/; knows nothing of what is in them.
 *
 *   node client/build.ts [--minify] [--only FILE]
 *
 * A missing entry is named and makes the build fail, after everything that is there has been built.
 * All talk goes to the error stream, so that `npm run -s tappet -- check --format json` stays pure JSON.
 */
import { createHash } from "node:crypto";
import { chmodSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { parseArgs } from "node:util";
import { build, type BuildOptions, type BuildResult, type Plugin } from "esbuild";
import { writeNotices } from "./notices.ts";
import { sharesOf } from "./sizes.ts";

/** `starter`: what runs first and is what others call; the entry itself is then built beside it, as its body. */
type Bundle = { readonly entry: string; readonly out: string; readonly options: BuildOptions; readonly starter?: string };

const root = join(import.meta.dirname, "..");

// CommonJS, since a start by the runtime's other kind of module costs a fifth more.
const forNode: BuildOptions = { platform: "node", format: "cjs", target: "node22", mainFields: ["module", "main"] };
const forBrowser: BuildOptions = { platform: "browser", target: "es2023" };

/** The reader of comma-separated text asks for it in a part that nothing here calls. */
const NODE_STREAMS = "stream";

/**
 * Of the lexer toolkit only what is asked for: its package does not say that its modules do nothing by being loaded, which would
 * bundle its parser and its diagrams, and run them at every start.
 */
const lexerAlone: Plugin = {
  name: "lexer-alone",
  setup: ({ onResolve, resolve }) => {
    onResolve({ filter: /^chevrotain$|^@chevrotain\/|^\.\.?\// }, async ({ path, importer, resolveDir, kind, pluginData }) => {
      if (pluginData === lexerAlone || !(path === "chevrotain" || /[\\/]node_modules[\\/]@?chevrotain[\\/]/.test(importer))) return undefined;
      return { ...await resolve(path, { importer, resolveDir, kind, pluginData: lexerAlone }), sideEffects: false };
    });
  },
};

/** Modules of the runtime that the servers' libraries ask for at once and hardly ever use: each costs a start some milliseconds. */
const whenUsed: Plugin = {
  name: "when-used",
  setup: ({ onResolve, onLoad }) => {
    onResolve({ filter: /^(node:)?(child_process|crypto)$/ }, ({ path, importer, namespace }) => (namespace === "file" && /[\\/]node_modules[\\/]/.test(importer) ? { path, namespace: "when-used" } : undefined));
    onLoad({ filter: /^/, namespace: "when-used" }, ({ path }) => ({ contents: `module.exports = new Proxy({}, { get: (_, name) => require("${path}")[name] });` }));
  },
};

const bundles: readonly Bundle[] = [
  { entry: "server/language-server.ts", out: "language-server.cjs", starter: "server/start-language-server.ts", options: forNode },
  { entry: "server/command-line.ts", out: "command-line.cjs", starter: "server/start-command-line.ts", options: forNode },
  { entry: "server/browser-worker.ts", out: "browser-worker.js", options: { ...forBrowser, format: "iife", external: [NODE_STREAMS] } },
  { entry: "client/extension.ts", out: "extension.cjs", options: { ...forNode, external: ["vscode"] } },
  {
    // The editor runs this one in a worker and gives it `require` for "vscode" alone.
    entry: "client/extension-web.ts",
    out: "extension-web.js",
    options: { ...forBrowser, format: "cjs", external: ["vscode"] },
  },
  { entry: "client/sheet-page.ts", out: "sheet-page.js", options: { ...forBrowser, format: "iife" } },
];

/** Files that npm links into the path of whoever installs the package. */
const executables = ["command-line.cjs", "language-server.cjs"];

/** Digits of what tells one body from another, which hold apart more builds than there will be. */
const MARK_DIGITS = 12;

/** The file that a starter runs: one function, so that it can be kept compiled (see server/compiled-code.ts). */
function bodyOf(out: string): string {
  return out.replace(/\.cjs$/, ".body.cjs");
}

const { values } = parseArgs({
  options: { minify: { type: "boolean", default: false }, only: { type: "string", multiple: true } },
});
const wanted = values.only ? bundles.filter(({ out }) => values.only?.includes(out)) : bundles;
const dist = join(root, "dist");
mkdirSync(dist, { recursive: true });

const missing = wanted.filter(({ entry }) => !existsSync(join(root, entry)));
const results = await Promise.allSettled(wanted.filter((bundle) => !missing.includes(bundle)).map(async ({ entry, out, options, starter }) => {
  if (starter === undefined) return [await bundled(entry, out, options)];
  const body = await bundled(entry, bodyOf(out), { ...options, plugins: [lexerAlone, whenUsed], charset: "ascii", banner: { js: "(function (require, __filename, __dirname) {" }, footer: { js: "})" } });
  const path = join(dist, bodyOf(out));
  const text = asciiOf(readFileSync(path, "utf8"));
  writeFileSync(path, text);
  const mark = createHash("sha256").update(text).digest("hex").slice(0, MARK_DIGITS);
  return [body, await bundled(starter, out, { ...options, define: { BODY_MARK: JSON.stringify(mark) } })];
}));

function bundled(entry: string, out: string, options: BuildOptions): Promise<BuildResult> {
  return build({
    absWorkingDir: root,
    entryPoints: [entry],
    outfile: join("dist", out),
    bundle: true,
    minify: values.minify,
    sourcemap: !values.minify,
    charset: "utf8",
    // The licences of what is bundled stand in one file of their own.
    legalComments: "none",
    metafile: true,
    logLevel: "warning",
    plugins: [lexerAlone],
    ...options,
    define: { "process.env.NODE_ENV": '"production"', ...options.define },
    ...(executables.includes(out) && { banner: { js: "#!/usr/bin/env node" } }),
  });
}

/** The bundler leaves characters in regular expressions as they are. */
function asciiOf(text: string): string {
  return text.replace(/[^\0-\x7f]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`);
}
for (const name of executables) if (existsSync(join(dist, name))) chmodSync(join(dist, name), 0o755);
// A map from an earlier, unminified build would point into a bundle that it no longer fits.
if (values.minify) for (const { out } of wanted) for (const name of [out, bodyOf(out)]) rmSync(join(dist, `${name}.map`), { force: true });

const built = results.flatMap((result) => (result.status === "fulfilled" ? result.value : []));
if (!values.only) {
  writeFileSync(join(dist, "shares.json"), JSON.stringify(sharesOf(built.flatMap(({ metafile }) => (metafile ? [metafile] : [])))));
  writeFileSync(join(dist, "third-party.txt"), writeNotices(root, built.flatMap(({ metafile }) => Object.keys(metafile?.inputs ?? {}))));
}

for (const { entry, out } of missing) console.error(`No ${basename(out)}: its source ${entry} is not there.`);
if (missing.length > 0 || results.some(({ status }) => status === "rejected")) {
  console.error("The build failed.");
  process.exit(1);
}
