// What a file says stays text, whatever it says and wherever it is printed.
import { describe, expect, test } from "vitest";
import { checkText } from "../../server/report/findings-text.ts";
import { sheetHtml } from "../../server/report/sheet-html.ts";
import { sheetMarkdown } from "../../server/report/sheet-markdown.ts";
import { sheetText } from "../../server/report/sheet-text.ts";
import { visible } from "../../grammar/visible.ts";
import { AS_OF, WREN, checkFiles, sheetOf } from "./wren.ts";

const titled = (title: string): Readonly<Record<string, string>> => ({
  ...WREN,
  "parts/ridgeway.tappet": (WREN["parts/ridgeway.tappet"] as string).replace("Ridgeway 272", title).replace("cam card in the box", title),
  "wren.tappet": (WREN["wren.tappet"] as string).replace("Wren hill-climb car, second season", title).replace("retainers are on the bench, card to follow", title).replace("cast pistons", title).replace("Degree the cam", title).replace("tunes/wren-2a.bin", title),
});

const MARKUP = [
  "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "' onclick='alert(1)", "</style><style>*{display:none}", "</title><script>", "&lt;script&gt;", "<!-- ", "]]>",
  "[a](javascript:alert(1))", "![a](x)", "**bold** _it_ `code` ~~s~~", "# head", "| a | b |", "- item", "1. item", "---", "<details open>", "https://example.invalid/x", "www.example.invalid", "@someone",
];

describe("markup in names, titles, reasons and sources", () => {
  test.each(MARKUP)("stays text on the page: %s", async (title) => {
    const html = sheetHtml((await sheetOf(titled(title))).model);
    const plain = sheetHtml((await sheetOf(titled("plain"))).model);
    const tags = (text: string) => [...text.matchAll(/<[/!]?[a-z-][^<>]*>/gi)].map((m) => m[0].replace(/"[^"]*"/g, '""')).filter((t) => !/^<\/?code>$/.test(t));
    expect(tags(html)).toEqual(tags(plain));
    expect(html).not.toContain("<script");
  });

  test.each(MARKUP)("stays text in Markdown: %s", async (title) => {
    const made = await sheetOf(titled(title));
    const plain = await sheetOf(titled("plain"));
    const markdown = sheetMarkdown(made.model);
    expect(markdown.split("\n").length).toBe(sheetMarkdown(plain.model).split("\n").length);
    // Only the markup that the report itself writes.
    expect(markdown.match(/<[^>]*>/g)?.filter((t) => !/^<\/?(details|summary)>$/.test(t)) ?? []).toEqual([]);
    // Unescaped, these would become links, emphasis, code or cells.
    const cells = (text: string) => text.split("\n").map((line) => line.match(/(?<!\\)\|/g)?.length ?? 0);
    expect(cells(markdown)).toEqual(cells(sheetMarkdown(plain.model)));
    for (const sign of ["[", "]", "~", "_", "!"]) expect(markdown.replace(/- \[[ x]\] /g, "").match(new RegExp(`(?<!\\\\)\\${sign}`, "g")) ?? []).toEqual(sheetMarkdown(plain.model).replace(/- \[[ x]\] /g, "").match(new RegExp(`(?<!\\\\)\\${sign}`, "g")) ?? []);
    expect(markdown).not.toMatch(/(?<!\\)https?:\/\/|(?<![\w&;])www\./);
  });
});

describe("characters that hide", () => {
  const hidden = ["\u202e", "\u2066", "\u200f", "\u200b", "\ufeff", "\u0007", "\u001b[31m", "\u0085", "\u2028", "\u00ad", "\u{e0041}"];

  test.each(hidden)("are printed by their number in every form: %j", async (character) => {
    const files = titled(`left${character}right`);
    const made = await sheetOf(files);
    const raw = [...character][0] as string;
    const number = `⟨U+${(raw.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}⟩`;
    for (const text of [sheetHtml(made.model), sheetMarkdown(made.model), sheetText(made.model), checkText(await checkFiles(files), { rules: 1, asOf: AS_OF })]) expect(text).not.toContain(raw);
    for (const text of [sheetHtml(made.model), sheetText(made.model)]) expect(text).toContain(number);
  });

  test("accents, other scripts and joined emoji of one piece stay as they are", () => {
    expect(visible("Ülkü Żółw 三 Ωμέγα 🔧")).toBe("Ülkü Żółw 三 Ωμέγα 🔧");
  });

  test("half a surrogate pair is printed by its number", () => {
    expect(visible("a\ud83db")).toBe("a⟨U+D83D⟩b");
  });

  test("a name in a right-to-left script is kept apart from what stands beside it", async () => {
    expect(sheetHtml((await sheetOf(titled("מנוע"))).model)).toContain("<bdi>מנוע</bdi>");
  });
});

describe("size", () => {
  test("a title of 10,000 characters is whole on the page and shortened at the terminal", async () => {
    const long = "long ".repeat(2000).trim();
    const { model } = await sheetOf(titled(long));
    expect(sheetHtml(model)).toContain(long);
    expect(sheetMarkdown(model)).toContain(long);
    expect(sheetText(model).split("\n")[0]?.length).toBeLessThan(250);
  });

  test("a finding on a very long line shows the part it is about", async () => {
    const files = { "wren.tappet": `engine small { source: "${"x".repeat(5000)}"; cylinders: 1; bore: 52.0; stroke: 49.0 mm }\n` };
    const text = checkText(await checkFiles(files), { rules: 1, asOf: AS_OF });
    expect(text).toContain("unit-missing");
    for (const line of text.split("\n").filter((l) => l.includes(" | "))) expect(line.length).toBeLessThan(150);
    expect(text).toMatch(/bore: 52\.0; stroke/);
  });
});
