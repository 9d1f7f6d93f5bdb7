// Everything the extension says can be translated, and its settings and commands keep to what is promised of them.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { clientWords } from "../../client/words.ts";

const root = join(import.meta.dirname, "..", "..");
const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
  readonly description: string;
  readonly contributes: {
    readonly commands: readonly { readonly command: string; readonly category: string; readonly title: string; readonly shortTitle?: string }[];
    readonly walkthroughs: readonly { readonly title: string; readonly description: string; readonly steps: readonly { readonly title: string; readonly description: string }[] }[];
    readonly configuration: { readonly properties: Readonly<Record<string, { readonly markdownDescription?: string; readonly enumDescriptions?: readonly string[]; readonly default?: unknown }>> };
    readonly keybindings: readonly { readonly command: string; readonly when?: string }[];
  };
};
const words = JSON.parse(readFileSync(join(root, "package.nls.json"), "utf8")) as Readonly<Record<string, string>>;
const { commands, walkthroughs, configuration, keybindings } = manifest.contributes;
const settings = Object.entries(configuration.properties);
const shown = [
  manifest.description, ...commands.flatMap((c) => [c.title, ...(c.shortTitle === undefined ? [] : [c.shortTitle])]), ...walkthroughs.flatMap((w) => [w.title, w.description, ...w.steps.flatMap((s) => [s.title, s.description])]),
  ...settings.flatMap(([, s]) => [s.markdownDescription ?? "", ...(s.enumDescriptions ?? [])]),
];
const said = (text: string) => words[text.slice(1, -1)] ?? "";

test("every text of the manifest is a key of the table, and no key is idle", () => {
  expect(shown.filter((text) => !/^%[\w.]+%$/.test(text) || said(text) === "")).toEqual([]);
  const used = new Set(readFileSync(join(root, "package.json"), "utf8").match(/%[\w.]+%/g)?.map((key) => key.slice(1, -1)));
  expect(Object.keys(words).filter((key) => !used.has(key))).toEqual([]);
});

test("the table of what the extension's code says is current", () => {
  expect(readFileSync(join(root, "client", "l10n", "bundle.l10n.json"), "utf8")).toBe(clientWords());
});

test("at most twenty settings, each with a default and a description that says it changes no result", () => {
  expect(settings.length).toBeLessThanOrEqual(20);
  for (const [name, setting] of settings) {
    expect(setting.default, name).toBeDefined();
    expect(said(setting.markdownDescription ?? ""), name).toMatch(/never (?:a result|what is found)\.$/);
  }
});

test("a dozen or so commands in one category, each a plain sentence without a full stop", () => {
  expect(commands.length).toBeLessThanOrEqual(18);
  expect(new Set(commands.map((c) => c.category))).toEqual(new Set(["Tappet"]));
  for (const { title } of commands) expect(said(title)).toMatch(/^[A-Z][^.!]* [^.!]*[^.!]$/);
});

test("keys are bound in build files alone, or while a figure is tried", () => {
  for (const { command, when } of keybindings) expect(when, command).toMatch(/editorLangId == tappet|tappet\.trying/);
});

test("a word of the editor is a whole name, whatever its letters", () => {
  const { wordPattern } = JSON.parse(readFileSync(join(root, "grammar", "language-configuration.json"), "utf8")) as { readonly wordPattern: { readonly pattern: string; readonly flags: string } };
  const word = new RegExp(wordPattern.pattern, `g${wordPattern.flags}`);
  expect("fit ridgeway-272 { bär: 0.20 mm }".match(word)).toEqual(["fit", "ridgeway-272", "bär", "0.20", "mm"]);
});
