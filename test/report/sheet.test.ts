// The sheet as a document and in each form it is printed in.
import { describe, expect, test } from "vitest";
import { renderSheetBody, sheetHtml } from "../../server/report/sheet-html.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import { sheetMarkdown } from "../../server/report/sheet-markdown.ts";
import { sheetText } from "../../server/report/sheet-text.ts";
import { buildSheet } from "../../server/workspace/build-sheet.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { WREN, sheetOf, uriOf } from "./wren.ts";

const replaced = (file: string, from: string, to: string): Readonly<Record<string, string>> => {
  const text = WREN[file] as string;
  expect(text).toContain(from);
  return { ...WREN, [file]: text.replace(from, to) };
};

describe("the verdict", () => {
  test("counts what stops the engine and names the first", async () => {
    const { model } = await sheetOf();
    expect(model.stopped).toBe(model.findings.some((f) => f.severity === "error"));
    expect(model.findings.length).toBeGreaterThan(0);
    const errors = model.findings.filter((f) => f.severity === "error");
    expect(errors.length).toBeGreaterThan(0);
    expect(model.verdict[0]).toMatch(/^\w+ things? stops? this engine\.$/);
    expect(model.verdict[1]).toContain((errors[0]?.message ?? "?").replace(/\.$/, ""));
  });

  test("says that nothing was found, never that an engine is ready", async () => {
    const files = { "wren.tappet": `engine small { source: "manual"; cylinders: 1; bore: 52.0 mm; stroke: 49.0 mm }\n` };
    const { model } = await sheetOf(files);
    expect(model.findings).toEqual([]);
    expect(model.verdict.join(" ")).toMatch(/^Nothing found that stops it/);
    expect(model.verdict.join(" ")).not.toMatch(/ready/i);
  });

  test("names each critical thing that was not checked", async () => {
    const { model, input } = await sheetOf();
    for (const u of input.unchecked) expect(model.verdict.join(" ")).toContain(u.what);
    expect(model.notChecked.map((u) => u.what)).toEqual(input.unchecked.map((u) => u.what));
  });
});

describe("values as measured", () => {
  const files = {
    "wren.tappet": `engine small "Small" { source: "manual"; cylinders: 2; bore: 83.00 mm; stroke: 82.00 mm
  combustion { chamber: 44.6 cc; piston-dish: 3.0 cc; gasket-bore: 84.0 mm; gasket-thickness: 0.80 mm crushed; deck: 0.15 mm below } }
build b on small {
  measured chamber on 2027-03-01 {
    | cylinder (cc) |    1 |    2 |
    | chamber       | 46.2 | 45.0 |
  }
  measured piston-valve on 2027-03-02 { intake: 2.3 mm }
}
`,
  };

  test("stand below the value as specified, with each place and its reading", async () => {
    const row = (await sheetOf(files)).model.sections.flatMap((s) => s.values).find((v) => v.id === "compression.static");
    // 443.67 cc over 44.6 + 8.245 cc, then over 46.2 and 45.0 with the same 8.245.
    expect(row?.value).toBe("9.40");
    expect(row?.measured?.label).toBe("as measured, 2 places");
    expect(row?.measured?.places.map((p) => [p.place, p.value, p.at?.range.start.line])).toEqual([["cylinder 1", "9.15", 6], ["cylinder 2", "9.33", 6]]);
  });

  test("are told where nothing was specified, and are then not called missing", async () => {
    const { model } = await sheetOf(files);
    const section = model.sections.find((s) => s.id === "valve-gear");
    const row = section?.values.find((v) => v.id === "piston-valve.intake.clearance");
    expect([row?.value, row?.measured?.value]).toEqual(["", "2.30 mm"]);
    expect(section?.missing.map((m) => m.id)).not.toContain("piston-valve.intake.clearance");
  });

  test("are in every form, and in the JSON for each place", async () => {
    const { model, input } = await sheetOf(files);
    expect(sheetText(model)).toMatch(/as measured, 2 places +9\.15 … 9\.33/);
    expect(sheetMarkdown(model)).toContain("As measured, cylinder 1: 9.15");
    expect(sheetHtml(model)).toContain("as measured, 2 places");
    const value = sheetJson(input).values.find((v) => v.id === "compression.static");
    expect(value?.measured.map((m) => [m.place, Number(m.nominal.toFixed(2)), m.from.map((p) => p.line)])).toEqual([["cylinder 1", 9.15, [6]], ["cylinder 2", 9.33, [6]]]);
  });
});

describe("the document", () => {
  test("puts errors before warnings before advice", async () => {
    const order = ["error", "warning", "advice"];
    const seen = (await sheetOf()).model.findings.map((f) => order.indexOf(f.severity));
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
  });

  test("lists a finding in a part that the build stands on", async () => {
    const { model } = await sheetOf(replaced("parts/ridgeway.tappet", "lobe-lift: 7.10 mm", "lobe-lift: 7.10"));
    expect(model.findings.some((f) => f.rule === "unit-missing" && f.place?.file === "parts/ridgeway.tappet")).toBe(true);
  });

  test("shows a value in both systems, the builder's first", async () => {
    const row = (await sheetOf()).model.sections.flatMap((s) => s.values).find((v) => v.id === "displacement.total");
    // π/4 · 8.3² · 8.2 · 4 = 1774.7 cc; / 16.387064 = 108.3 cu-in.
    expect([row?.value, row?.other]).toEqual(["1775 cc", "108.3 cu-in"]);
  });

  test("puts inches first for a builder who writes in inches", async () => {
    const files = { "wren.tappet": `engine small { source: "manual"; cylinders: 8; bore: 4.000 in; stroke: 3.480 in }\n` };
    const row = (await sheetOf(files)).model.sections.flatMap((s) => s.values).find((v) => v.id === "displacement.total");
    // π/4 · 4² · 3.48 · 8 = 349.8 cu-in = 5733 cc.
    expect([row?.value, row?.other]).toEqual(["349.8 cu-in", "5733 cc"]);
  });

  test("holds a value to what a fitted part asks for, with the margin that is left", async () => {
    const row = (await sheetOf()).model.sections.flatMap((s) => s.values).find((v) => v.id === "coil-bind-margin.intake");
    // 38.0 − 7.10 · 1.50 − 24.0 = 3.35 mm; 1.85 mm over the 1.5 mm asked for.
    expect(row?.value).toBe("3.35 mm");
    expect(row?.limit).toEqual({ text: "≥ 1.5 mm", origin: "Ridgeway 272", margin: "1.85 mm", kept: true });
  });

  test("holds a value to the builder's own check", async () => {
    const row = (await sheetOf()).model.sections.flatMap((s) => s.values).find((v) => v.id === "piston-speed.mean");
    // 2 · 0.082 · 6500 / 60 = 17.77 m/s.
    expect(row?.limit).toEqual({ text: "≤ 20 m/s", origin: "cast pistons", margin: "2.2 m/s", kept: true });
  });

  test("says which figures would give a value that could not be worked out", async () => {
    const files = { "wren.tappet": `engine small { source: "manual"; cylinders: 1; bore: 52.0 mm }\n` };
    const missing = (await sheetOf(files)).model.sections.flatMap((s) => s.missing).find((m) => m.id === "displacement.total");
    expect(missing?.why).toBe("needs stroke");
  });

  test("ticks the steps that are done", async () => {
    const list = (await sheetOf()).model.sections.find((s) => s.id === "order-of-work")?.lists.find((l) => l.ticks);
    expect(list?.items.map((i) => [i.text, i.done])).toEqual([["Lay the shaft in lubricated: Ridgeway 272", "2027-03-13"], ["Degree the cam: measure centreline", undefined]]);
  });

  test("names the part that another part asks for and that is not fitted", async () => {
    const list = (await sheetOf()).model.sections.find((s) => s.id === "parts")?.lists.find((l) => l.caption === "Still missing");
    expect(list?.items.map((i) => i.text)).toEqual(["Retainer: asked for by Ridgeway 272, and none is fitted"]);
  });

  test("keeps every waiver on the sheet with its reason, its date and what it silences", async () => {
    const [waiver] = (await sheetOf()).model.waivers;
    expect(waiver).toMatchObject({ rule: "need-unmet", reason: "retainers are on the bench, card to follow", until: "2027-09-01" });
    const unused = await sheetOf(replaced("wren.tappet", "waive need-unmet", "waive lash-spread"));
    expect(unused.model.waivers[0]?.silences).toEqual([]);
  });

  test("traces a value to the lines it rests on", async () => {
    const row = (await sheetOf()).model.sections.flatMap((s) => s.values).find((v) => v.id === "displacement.total");
    expect(row?.trace.inputs.map((i) => [i.name, i.value, i.place?.file, i.place?.range.start.line])).toEqual([
      ["bore", "83.00 mm", "engines/dunlin.tappet", 5], ["stroke", "82.00 mm", "engines/dunlin.tappet", 6], ["cylinders", "4", "engines/dunlin.tappet", 3],
    ]);
  });

  test("defers to the makers at the head of the cautions, and warns of boost only where there is some", async () => {
    const { model } = await sheetOf();
    expect(model.deference).toMatch(/makers come first/);
    expect(model.cautions.some((c) => c.id === "spring-energy")).toBe(true);
    expect(model.cautions.some((c) => c.id === "boost")).toBe(false);
  });
});

describe("which build", () => {
  const two = `${WREN["wren.tappet"]}\nbuild second on dunlin-18 { fuel: petrol }\n`;

  test("several builds need a name, and the refusal gives the names", async () => {
    const files = { ...WREN, "wren.tappet": two };
    const project = await loadProject(memoryHost(Object.fromEntries(Object.entries(files).map(([n, t]) => [uriOf(n), t]))), [uriOf("wren.tappet")]);
    const wish = { nameOf: (uri: string) => uri.split("/").at(-1) ?? "", asOf: "2027-05-01" };
    expect(buildSheet(project, uriOf("wren.tappet"), wish)).toEqual({ refusal: "wren.tappet has 2 builds: say which with --build wren-hill-2 or second." });
    expect(buildSheet(project, uriOf("wren.tappet"), { ...wish, build: "second" })).toMatchObject({ model: { name: "second" } });
    expect(buildSheet(project, uriOf("wren.tappet"), { ...wish, build: "third" })).toEqual({ refusal: "wren.tappet has no build called third: it has wren-hill-2 or second." });
  });
});

test("the last of very many engines in a file has its sheet like the first", async () => {
  const text = Array.from({ length: 260 }, (_, i) => `engine e${i} { source: "manual"; cylinders: 1; bore: 52.0 mm; stroke: 49.0 mm }\n`).join("");
  const project = await loadProject(memoryHost({ [uriOf("many.tappet")]: text }), [uriOf("many.tappet")]);
  const sheetAt = (build: string) => {
    const made = buildSheet(project, uriOf("many.tappet"), { build, nameOf: (uri) => uri, asOf: "2027-05-01" });
    return "input" in made ? sheetJson(made.input).values.map((v) => [v.id, v.nominal]) : [];
  };
  expect(sheetAt("e259").length).toBeGreaterThan(50);
  expect(sheetAt("e259")).toEqual(sheetAt("e0"));
});

describe("forms", () => {
  test("the same build gives the same bytes in every form", async () => {
    const [a, b] = [await sheetOf(), await sheetOf()];
    expect(sheetHtml(a.model)).toBe(sheetHtml(b.model));
    expect(sheetMarkdown(a.model)).toBe(sheetMarkdown(b.model));
    expect(sheetText(a.model)).toBe(sheetText(b.model));
    expect(JSON.stringify(sheetJson(a.input))).toBe(JSON.stringify(sheetJson(b.input)));
  });

  test("the text reads as it did", async () => {
    await expect(sheetText((await sheetOf()).model)).toMatchFileSnapshot("expected/wren.sheet.txt");
  });

  test("the page needs no script and no network", async () => {
    const html = sheetHtml((await sheetOf()).model);
    expect(html).not.toMatch(/<script|<link|<img|<iframe|<use|<image|@import|url\((?!#)|https?:(?!\/\/www\.w3\.org\/2000\/svg")|\son\w+=|style="/i);
    expect(html).toContain("default-src 'none'");
  });

  test("every value, finding and caution of the document stands on the page", async () => {
    const { model } = await sheetOf();
    const body = renderSheetBody(model);
    for (const section of model.sections) for (const v of section.values) expect(body).toContain(`data-value="${v.id}"`);
    model.findings.forEach((_, i) => expect(body).toContain(`data-finding="${i}"`));
    for (const c of model.cautions) expect(body).toContain(`<dt>${c.title}</dt>`);
  });

  test("exports give places as text, the editor's page as buttons that carry file, line and column", async () => {
    const { model } = await sheetOf();
    const exported = renderSheetBody(model);
    expect(exported).not.toContain("<button");
    expect(exported).toContain('<span class="place">engines/dunlin.tappet:5</span>');
    const live = renderSheetBody(model, { links: "jump" });
    expect(live).toContain(`data-file="${uriOf("engines/dunlin.tappet")}" data-line="5" data-column="9"`);
  });

  test("tags on the page are balanced and every table has heads and a caption", async () => {
    const body = renderSheetBody((await sheetOf()).model);
    const open: string[] = [];
    for (const [, slash, tag, closed] of body.matchAll(/<(\/?)([a-z][a-zA-Z0-9]*)\b[^>]*?(\/?)>/g)) {
      if (closed) continue;
      if (slash) expect(open.pop()).toBe(tag);
      else open.push(tag as string);
    }
    expect(open).toEqual([]);
    expect(body.match(/<table/g)?.length).toBe(body.match(/<caption/g)?.length);
    expect(body.match(/<table/g)?.length).toBe(body.match(/<thead/g)?.length);
  });

  test("JSON gives null and the missing paths where a value could not be worked out", async () => {
    const files = { "wren.tappet": `engine small { source: "manual"; cylinders: 1; bore: 52.0 mm }\n` };
    const json = sheetJson((await sheetOf(files)).input);
    expect(json).toMatchObject({ build: null, engine: "small" });
    expect(json.values.find((v) => v.id === "displacement.total")).toMatchObject({ low: null, nominal: null, high: null, missing: ["stroke"], unit: "cc" });
  });

  test("JSON gives values in the unit it names, and the places they rest on", async () => {
    const value = sheetJson((await sheetOf()).input).values.find((v) => v.id === "displacement.total");
    expect(value?.nominal).toBeCloseTo((Math.PI / 4) * 8.3 ** 2 * 8.2 * 4, 6);
    expect(value?.from).toContainEqual({ file: "engines/dunlin.tappet", line: 5, column: 9 });
  });
});
