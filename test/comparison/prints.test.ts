// A comparison as it is printed: counts first, causes numbered, consequences naming them; nothing in a file becomes markup; published JSON holds.
import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { describe, expect, test } from "vitest";
import schema from "../../server/report/schemas/comparison.schema.json" with { type: "json" };
import { comparisonHtml, renderComparisonBody } from "../../server/report/comparison-html.ts";
import { comparisonJson } from "../../server/report/comparison-json.ts";
import { comparisonMarkdown } from "../../server/report/comparison-markdown.ts";
import { comparisonText } from "../../server/report/comparison-text.ts";
import { WREN } from "../report/wren.ts";
import { compared, edited } from "./states.ts";

const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
addFormats.default(ajv);
const valid = ajv.compile(schema);
const both = edited(edited(WREN, "engines/dunlin.tappet", "solid-height: 24.0 mm", "solid-height: 26.5 mm"), "wren.tappet", "intake: 0.15 mm cold", "intake: 0.20 mm cold");

test("the text says the counts first, then what was changed, then what follows from which", async () => {
  const lines = comparisonText(await compared(WREN, both)).split("\n");
  expect(lines[0]).toBe("Between before and after: 1 build changed.");
  expect(lines[2]).toBe('wren-hill-2 "Wren hill-climb car, second season" (wren.tappet)');
  expect(lines[3]).toMatch(/^2 things changed; in consequence \d+ values, 2 margins and 1 finding gone\.$/);
  const at = (text: string) => lines.findIndex((line) => line.includes(text));
  expect([at("Changed"), at("Findings"), at("Margins"), at(", in consequence")].map((n) => n > 0)).toEqual([true, true, true, true]);
  expect(at("Changed")).toBeLessThan(at("Findings"));
  expect(at("Findings")).toBeLessThan(at("Margins"));
  expect(lines).toContain("  2  valve-gear.valve-spring.solid-height: 24.0 mm → 26.5 mm");
  expect(lines.find((line) => line.includes("Intake lash chosen"))).toMatch(/0\.15 mm → 0\.20 mm {2}\[by 1\]$/);
});

test("what is long stands on a line of its own for each side", async () => {
  const text = comparisonText(await compared(WREN, edited(WREN, "wren.tappet", "2027-09-01", "2028-09-01")));
  expect(text).toMatch(/\n {5}- waive need-unmet .*\n {5}\+ waive need-unmet /);
});

test("a value that was measured at many places is one line, from the least to the greatest", async () => {
  const c = await compared(WREN, both);
  const lines = comparisonText(c).split("\n").filter((line) => line.includes("as measured"));
  const measured = c.builds[0]?.values.filter((v) => v.measured && !v.unseen) ?? [];
  expect(measured.length).toBeGreaterThan(lines.length);
  expect(lines.length).toBe(new Set(measured.map((v) => v.id)).size);
  expect(lines.every((line) => /as measured, \d+ places: /.test(line))).toBe(true);
});

test("nothing changed is said, and is valid JSON", async () => {
  const c = await compared(WREN, WREN);
  expect(comparisonText(c)).toBe("Between before and after: nothing changed, 1 build the same.\n");
  expect(valid(comparisonJson(c)), JSON.stringify(valid.errors)).toBe(true);
});

test("JSON is as published, for what changed, came, went, was renamed and could not be read", async () => {
  const { "wren.tappet": build, ...rest } = WREN;
  const states = [WREN, both, rest, { ...WREN, "wren.tappet": (build as string).replace("build wren-hill-2", "build other") }, { ...WREN, "wren.tappet": `${build} ]][[ ` }, edited(WREN, "engines/dunlin.tappet", "138.5 mm", "5.453 in")];
  for (const a of states) for (const b of states) expect(valid(JSON.parse(JSON.stringify(comparisonJson(await compared(a, b))))), JSON.stringify(valid.errors)).toBe(true);
});

test("the same two states give the same bytes", async () => {
  const prints = async () => {
    const c = await compared(WREN, both);
    return [comparisonText(c), comparisonMarkdown(c), comparisonHtml(c), JSON.stringify(comparisonJson(c))];
  };
  expect(await prints()).toEqual(await prints());
});

describe("HTML", () => {
  test("changes stand left with an anchor each, and consequences lead to them", async () => {
    const html = comparisonHtml(await compared(WREN, both));
    const ids = new Set([...html.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]));
    const links = [...html.matchAll(/href="#([^"]+)"/g)].map((m) => m[1] as string);
    expect(links.length).toBeGreaterThan(10);
    expect(links.filter((id) => !ids.has(id))).toEqual([]);
    expect(html.indexOf('class="changed"')).toBeLessThan(html.indexOf('class="consequences"'));
    expect(html).not.toMatch(/<script|https?:\/\/|file:\/\//);
  });

  test("in the editor both places of a change lead to their lines, each in its own state", async () => {
    const body = renderComparisonBody(await compared(WREN, both), { links: "jump", back: "Back to the sheet" });
    expect(body).toMatch(/<span class="was">.*data-file="file:\/\/\/shop\/wren\.tappet" data-line="6"/);
    expect(body).toContain("data-back");
  });

  test("whatever a file says stays text", async () => {
    const bad = '<img src=x onerror=alert(1)> "&" \u202e';
    const after = edited(WREN, "engines/dunlin.tappet", '"Ashdown Dunlin 1.8, 12-valve"', `"${bad.replaceAll('"', "'")}"`);
    const c = await compared(WREN, edited(after, "engines/dunlin.tappet", "stroke: 82.00", "stroke: 83.00"));
    expect(comparisonHtml(c)).not.toContain("<img");
    expect(comparisonMarkdown(c)).not.toContain("<img");
    expect(comparisonHtml(c) + comparisonMarkdown(c) + comparisonText(c)).not.toContain("\u202e");
  });
});

test("Markdown has its tables whole", async () => {
  const lines = comparisonMarkdown(await compared(WREN, both)).split("\n");
  const rows = lines.filter((line) => line.startsWith("|"));
  expect(rows.length).toBeGreaterThan(10);
  const bars = (line: string) => line.replaceAll("\\|", "").split("|").length;
  for (const [i, line] of lines.entries()) if (line.startsWith("|") && lines[i + 1]?.startsWith("|")) expect(bars(line)).toBe(bars(lines[i + 1] as string));
});
