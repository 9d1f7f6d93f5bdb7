// What the sheet tells of a build's life: the order of work, readings over time, tests before the work and since, evidence; and what a public
// sheet leaves out.
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import schema from "../../server/report/schemas/sheet.schema.json" with { type: "json" };
import { sheetHtml } from "../../server/report/sheet-html.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import { sheetMarkdown } from "../../server/report/sheet-markdown.ts";
import { sheetText } from "../../server/report/sheet-text.ts";
import { CAUTIONS, DEFERENCE } from "../../server/schema/cautions.ts";
import { sheetOf } from "./wren.ts";

const FILES = {
  "wren.tappet": `engine dunlin-18 "Dunlin 1.8" { source: "workshop manual, section 6A"; cylinders: 2
  valve-gear { layout: sohc; adjuster: screw; intake { lash: 0.20 ± 0.06 mm cold }; exhaust { lash: 0.35 ± 0.06 mm cold } }
  fastener cam-cap { thread: M8x1.25; class: 8.8; torque: 20 ± 2 N·m oiled; photo "photos/cap-3.jpg" "the mark on cap 3" }
}
part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 { source: "cam card in the box"; document "papers/card.pdf" "the card in the box"; break-in: 1800 .. 2400 rpm for 20 min }
build wren on dunlin-18 {
  interference: no
  fit ridgeway-272 { condition: new; cost: 240.00 GBP; bought-from: "A. Petch, autojumble"; note "lobe 3 polished by hand" by "M. A." }
  measured cranking hot on 2027-01-02 before teardown { throttle: open
    | cylinder (bar) |    1 |    2 |
    | dry            | 12.4 | 11.8 | }
  measured cranking hot on 2027-04-02 { throttle: open
    | cylinder (bar) |    1 |    2 |
    | dry            | 12.9 | 12.8 | }
  measured lash cold on 2027-03-14 { by: "M. A."; note private "borrowed feelers, to be given back"
    | valve (mm) |    1 |    2 |
    | intake     | 0.20 | 0.20 |
    | exhaust    | 0.35 | 0.35 | }
  measured lash cold on 2027-03-21 {
    | valve (mm) |    1 |    2 |
    | intake     | 0.20 | 0.19 |
    | exhaust    | 0.35 | 0.35 | }
  plan "Shaft" {
    step caps-down "Caps down evenly" { tighten: cam-cap; tool: "small wrench" }
    step sealed after caps-down { sealant: "a thin line at both corners"; hold-time: 24 h }
    step first-start after sealed
    step look-again after first-start { measure: leak-down; due: 2027-04-20; note "and write it down" }
    step tune after look-again
    done caps-down on 2027-03-13 by "M. A."
    done sealed on 2027-03-14
  }
  run first-start on 2027-03-20 { speed: 2000 rpm for 20 min }
  photo private "photos/garage.jpg" "the whole shed" on 2027-03-01
  note "dowel was tight, eased with a stone" on 2027-03-13
}
`,
};

const tableOf = async (caption: RegExp, open = false) => {
  const { model } = await sheetOf(FILES, "wren.tappet", open);
  const table = model.sections.flatMap((s) => s.tables).find((t) => caption.test(t.caption));
  return table && [table.heads, ...table.rows.map((r) => r.cells)];
};

describe("the order of work", () => {
  test("stands as boxes with what each step takes, what is next, and what is due", async () => {
    const { model } = await sheetOf(FILES);
    const lists = model.sections.find((s) => s.id === "order-of-work")?.lists.map((l) => [l.caption, ...l.items.map((i) => [i.done ?? "", i.text, i.note ?? ""])]);
    expect(lists).toEqual([
      ["Next", ["", "Look again: measure leak-down", "was due on 2027-04-20"]],
      ["Shaft",
        ["2027-03-13", "Caps down evenly: cam-cap 20 ± 2 N·m oiled; tool: small wrench", "M. A."],
        ["2027-03-14", "Sealed: sealant: a thin line at both corners; then leave it 24.0 h", ""],
        ["2027-03-20", "First start: it must fire at once; oil pressure watched", "by the run of 2027-03-20"],
        ["", "Look again: measure leak-down", "next, was due on 2027-04-20"],
        ["", "Fuel and spark set for the engine as it now is", "after look-again"],
      ],
    ]);
  });

  test("reads the same in every form", async () => {
    const { model } = await sheetOf(FILES);
    expect(sheetText(model)).toContain("[x] Caps down evenly: cam-cap 20 ± 2 N·m oiled; tool: small wrench, 2027-03-13, M. A. (wren.tappet:24)");
    expect(sheetText(model)).toContain("[ ] Look again: measure leak-down, next, was due on 2027-04-20 (wren.tappet:27)");
    expect(sheetMarkdown(model)).toContain("- [ ] Fuel and spark set for the engine as it now is, *after look-again*");
    expect(sheetHtml(model)).toContain('aria-label="done">✓</span> Caps down evenly: cam-cap 20 ± 2 N·m oiled; tool: small wrench, <span class="whole">2027-03-13</span> <span class="note">M. A.</span>');
  });

  test("is there for programs, in the form that the schema publishes", async () => {
    const json = sheetJson((await sheetOf(FILES)).input);
    const valid = new Ajv2020({ allErrors: true }).compile(schema);
    expect(valid(json), JSON.stringify(valid.errors)).toBe(true);
    expect(valid({ ...json, work: [{ title: null }] })).toBe(false);
    const [plan] = json.work;
    expect(plan?.begun).toBe("2027-03-13");
    expect(plan?.steps.map((s) => [s.name, s.state, s.done, s.shown])).toEqual([
      ["caps-down", "done", "2027-03-13", false], ["sealed", "done", "2027-03-14", false], ["first-start", "done", "2027-03-20", true], ["look-again", "next", null, false], ["tune", "waiting", null, false],
    ]);
  });
});

describe("running-in", () => {
  test("stands stage by stage with what was run so fast and what is still due", async () => {
    expect(await tableOf(/^Running-in asked for$/)).toEqual([["By", "How", "Run so fast", "Still due"], ["Ridgeway 272", "1800 .. 2400 rpm for 20 min", "20 min", "nothing"]]);
    const files = { "wren.tappet": FILES["wren.tappet"].replace("break-in: 1800 .. 2400 rpm for 20 min", "break-in: 1500 rpm for 5 min, then 2200 .. 2400 rpm for 20 min") };
    const { model } = await sheetOf(files);
    const rows = model.sections.flatMap((s) => s.tables).find((t) => t.caption === "Running-in asked for")?.rows.map((r) => r.cells);
    expect(rows).toEqual([["Ridgeway 272", "1500 rpm for 5 min", "20 min", "5 min"], ["Ridgeway 272", "2200 .. 2400 rpm for 20 min", "0 min", "20 min"]]);
  });
});

describe("readings over time", () => {
  test("lash stands valve by valve with its change", async () => {
    expect(await tableOf(/^Lash over time, cold$/)).toEqual([
      ["Of", "2027-03-14", "2027-03-21", "Change"],
      ["Intake, cylinder 1", "0.20 mm", "0.20 mm", "none"], ["Intake, cylinder 2", "0.20 mm", "0.19 mm", "-0.01 mm"],
      ["Exhaust, cylinder 1", "0.35 mm", "0.35 mm", "none"], ["Exhaust, cylinder 2", "0.35 mm", "0.35 mm", "none"],
    ]);
  });

  test("cranking pressures stand before the work and since, side by side", async () => {
    expect(await tableOf(/^Cranking pressures, before the work and since$/)).toEqual([
      ["Of", "2027-01-02 before", "2027-04-02", "Change"], ["Cylinder 1", "12.4 bar", "12.9 bar", "+0.5 bar"], ["Cylinder 2", "11.8 bar", "12.8 bar", "+1.0 bar"],
    ]);
  });

  test("tests that were made differently are not held against each other", async () => {
    const files = { "wren.tappet": FILES["wren.tappet"].replace("on 2027-04-02 { throttle: open", "on 2027-04-02 { throttle: shut") };
    const { model } = await sheetOf(files);
    const table = model.sections.flatMap((s) => s.tables).find((t) => t.caption.startsWith("Cranking"));
    expect(table?.rows.map((r) => r.cells.at(-1))).toEqual(["not tested alike", "not tested alike"]);
  });
});

describe("evidence", () => {
  test("stands by the thing that it proves, with who and when", async () => {
    expect(await tableOf(/^Notes, photos/)).toEqual([
      ["About", "What", "File", "Day", "By"],
      ["Ridgeway-272", "lobe 3 polished by hand", "", "", "M. A."],
      ["The lash measured on 2027-03-14", "borrowed feelers, to be given back (private)", "", "", ""],
      ["Step look again", "and write it down", "", "", ""],
      ["This build", "the whole shed (private)", "photos/garage.jpg", "2027-03-01", ""],
      ["This build", "dowel was tight, eased with a stone", "", "2027-03-13", ""],
      ["Cam-cap", "the mark on cap 3", "photos/cap-3.jpg", "", ""],
      ["Ridgeway 272", "the card in the box", "papers/card.pdf", "", ""],
    ]);
  });
});

describe("a public sheet", () => {
  const PRIVATE = /borrowed feelers|the whole shed|garage\.jpg|240\.00|Petch/;
  const forms = async (open: boolean) => {
    const { model, input } = await sheetOf(FILES, "wren.tappet", open);
    return { text: sheetText(model), markdown: sheetMarkdown(model), html: sheetHtml(model), json: JSON.stringify(sheetJson(input)) };
  };

  test("leaves private notes and pictures out of every form, and says so; the builder's own has them", async () => {
    for (const [form, text] of Object.entries(await forms(true))) expect(text, form).not.toMatch(PRIVATE);
    for (const [form, text] of Object.entries(await forms(false))) expect(text, form).toMatch(PRIVATE);
    expect((await forms(true)).text).toContain("Left out  private notes and what was paid");
    expect((await forms(true)).json).toContain('"public":true');
  });

  test("always carries cautions, sources, findings and all other evidence", async () => {
    const { model } = await sheetOf(FILES, "wren.tappet", true);
    const own = (await sheetOf(FILES)).model;
    expect(model.deference).toBe(DEFERENCE);
    expect(model.cautions).toEqual(own.cautions);
    expect(model.cautions.length).toBeGreaterThan(CAUTIONS.length / 2);
    expect(model.findings).toEqual(own.findings);
    const ids = (m: typeof model) => m.sections.map((s) => s.id);
    expect(ids(model)).toEqual(ids(own));
    for (const text of Object.values(await forms(true))) {
      expect(text).toContain("workshop manual, section 6A");
      expect(text).toContain("dowel was tight");
    }
  });
});
