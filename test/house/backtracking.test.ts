/** No pattern of the sources takes steps that grow faster than the text it looks at. Steps are counted, nothing is timed. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { worstOf } from "../support/backtracking.ts";

const ROOT = join(import.meta.dirname, "../..");

/** Code up to the next thing that matters here: a blank, a remark, a string, a piece of a template, a word, a pattern, or a sign. */
const PIECE = /\s+|\/\/[^\n]*|\/\*[^]*?\*\/|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|[\w$]+|\/(?![*/])(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\[\n])+\/[a-z]*|[^]/y;
const TEMPLATE = /[}`](?:\\[^]|\$(?!\{)|[^`\\$])*(?:`|\$\{)/y;
/** After these a slash divides. */
const VALUE = /^[\w$)\]"'`]/;
const WORD_BEFORE_PATTERN = /^(?:return|case|typeof|of|in)$/;

/** The patterns that a source writes between slashes. */
function patternsIn(code: string): RegExp[] {
  const found: RegExp[] = [];
  /** Braces that are open inside each template that is. */
  const templates: number[] = [];
  let before = "";
  for (let at = 0; at < code.length; ) {
    const sign = code[at];
    const continues = sign === "`" || (sign === "}" && templates.at(-1) === 0);
    const own = continues ? TEMPLATE : PIECE;
    own.lastIndex = at;
    let piece = own.exec(code)?.[0] ?? sign ?? "";
    if (continues) {
      if (sign === "}") templates.pop();
      if (piece.endsWith("${")) templates.push(0);
    } else if (sign === "{" && templates.length > 0) templates.push((templates.pop() ?? 0) + 1);
    else if (sign === "}" && templates.length > 0) templates.push((templates.pop() ?? 0) - 1);
    const blank = /^(?:\s|\/\/|\/\*)/.test(piece);
    if (sign === "/" && !blank && piece.length > 1) {
      if (VALUE.test(before) && !WORD_BEFORE_PATTERN.test(before)) piece = "/";
      else {
        const end = piece.lastIndexOf("/");
        found.push(new RegExp(piece.slice(1, end), piece.slice(end + 1)));
      }
    }
    at += piece.length;
    if (!blank) before = continues ? (piece.endsWith("${") ? "(" : "`") : sign === "/" && piece.length > 1 ? "`" : piece;
  }
  return found;
}

const written = ["grammar", "server", "client"].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" }).filter((name) => /\.(?:ts|mjs)$/.test(name)).map((name) => `${folder}/${name.replaceAll("\\", "/")}`).flatMap((name) => {
    const patterns = patternsIn(readFileSync(join(ROOT, name), "utf8"));
    return patterns.length === 0 ? [] : [{ name, patterns }];
  }),
);

describe("a pattern that is known to go back and forth is found out", () => {
  test.each([[/\s+$/], [/(a+)+b/], [/(a|a)*b/], [/^(\d+)*x/], [/,.*,.*$x/], [/\{([^}]+)\}/], [/(?<=a+)b/], [/<!--.*-->/], [/^(.*)(.*)(.*)x$/]])("%s", (pattern) => {
    expect(worstOf(pattern)).toBeDefined();
  });
});

describe("a pattern that passes over each character so many times and no more is let pass", () => {
  test.each([[/(?<!\s)\s+$/], [/^\s+/], [/"[^"]*"?/], [/^(?:ab)*$/], [/\w+/g], [/\{([^{}]+)\}/], [/a{0,20}b/]])("%s", (pattern) => {
    expect(worstOf(pattern)).toBeUndefined();
  });
});

test("patterns are told from divisions, strings, remarks and templates", () => {
  const code = 'const a = b / c / d; // not /one/\nconst e = `${x / y} /two/ ${s.replace(/th\\/r[/]ee/g, "/four/")}`; if (/five/.test(e)) return /six/u;\nf(a) / 2 / g["/"];';
  expect(patternsIn(code).map(String)).toEqual(["/th\\/r[/]ee/g", "/five/", "/six/u"]);
});

test("there are patterns to look at", () => {
  expect(written.flatMap((file) => file.patterns).length).toBeGreaterThan(200);
});

test.each(written)("$name", ({ patterns }) => {
  expect(patterns.flatMap((pattern) => { const worst = worstOf(pattern); return worst ? [{ pattern: String(pattern), ...worst }] : []; })).toEqual([]);
});
