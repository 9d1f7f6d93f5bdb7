// A recording on the sheet, in the drawings, in JSON, and under the pointer: the same figures as the rows it was written from.
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { recordedPulls, recording } from "../../server/drawings/recording.ts";
import { completionsAt } from "../../server/editor/completion.ts";
import { hoverAt } from "../../server/editor/hover.ts";
import { linksOf } from "../../server/editor/links.ts";
import { sheetHtml } from "../../server/report/sheet-html.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import schema from "../../server/report/schemas/sheet.schema.json" with { type: "json" };
import { buildSheet } from "../../server/workspace/build-sheet.ts";
import { expectWellMade, part, pointsOf, printed } from "../drawings/picture.ts";
import { MAIN, analyseText, projectOf } from "../support/project.ts";
import { type Row, roadTest, written } from "./recordings.ts";

const ROWS = roadTest(90);
const BUILD = `engine dunlin-18 { source: "workshop manual"; cylinders: 4; redline: 6500 rpm
  fluids { oil-pressure {
    |  rpm | pressure (bar) |
    | 1000 |            1.0 |
    | 6000 |            3.0 |
  } }
}

build wren-hill-4 on dunlin-18 {
  fuel: petrol; limits { mixture: 13.2 afr }
  log "runs/hill.csv" on 2027-06-12 {
    time: "Time"; rpm: "Engine Speed"; throttle: "Throttle"; afr: "Wideband"; manifold: "Manifold"; oil-pressure: "Oil P"; coolant: "Coolant"; torque: "Torque"
    at: wheels; correction: none
    weather { temperature: 32 °C; barometer: 97.0 kPa station; humidity: 0 % }
  }
}
`;
const TEXT = `${BUILD}--- runs/hill.csv\n${written(ROWS)}`;
const made = (text = TEXT) => {
  const result = buildSheet(projectOf(text), MAIN, { nameOf: (uri) => uri, asOf: "2027-07-01" });
  if ("refusal" in result) throw new Error(result.refusal);
  return result;
};
const LOADED = ROWS.filter((r) => r.throttle >= 80);

describe("on the sheet", () => {
  const { model, input } = made();
  const section = model.sections.find((s) => s.id === "runs-and-pulls");
  const table = (caption: string) => section?.tables.find((t) => t.caption.startsWith(caption));
  const value = (id: string) => input.sheet.byId.get(`log.on-2027-06-12.${id}`)?.interval?.nominal;

  test("stand its length, its ends and its worst", () => {
    expect(value("span")).toBeCloseTo((ROWS.at(-1) as Row).time, 9);
    expect(value("most-rpm")).toBe(Math.max(...ROWS.map((r) => r.rpm)));
    expect(value("hottest-coolant")).toBeCloseTo(Math.max(...ROWS.map((r) => r.water)) + 273.15, 9);
    expect(value("most-boost")).toBeCloseTo(Math.max(...ROWS.map((r) => r.map)) * 1000 - 97000, 6);
    expect(value("peak.torque")).toBeCloseTo(Math.max(...LOADED.map((r) => r.torque ?? 0)), 9);
  });

  test("stands its power as each standard would have it, of the day's dry air", () => {
    const power = Math.max(...LOADED.map((r) => ((r.torque ?? 0) * r.rpm * Math.PI) / 30));
    expect(value("peak.power")).toBeCloseTo(power, 6);
    // SAE J1349 of June 1990 and ISO 1585 at 97 kPa dry and 32 °C, as in the tests of pulls.
    expect(value("corrected.sae-j1349.power")).toBeCloseTo(power * (1.18 * ((99 / 97) * Math.sqrt(305 / 298)) - 0.18), 0);
    expect((value("corrected.iso-1585.power") ?? 0) / power).toBeCloseTo((99 / 97) ** 1.2 * (305 / 298) ** 0.6, 3);
  });

  test("stands how it was read, what passed a limit, and its pulls side by side", () => {
    expect(table('Recording "runs/hill.csv" of 2027-06-12')?.rows.map((r) => r.cells[0])).toEqual(["rows", "columns", "written with", "torque and power", "loaded"]);
    const over = table("Limits in")?.rows.find((r) => r.cells[0] === "Over the redline")?.cells;
    expect(over?.[5]).toContain(`${Math.max(...ROWS.map((r) => r.rpm))} rpm`);
    const pulls = table("Pulls in");
    expect(pulls?.heads.slice(0, 3)).toEqual(["From", "Speeds", "Took"]);
    expect(pulls?.heads[3]).toMatch(/^\d+ to \d+ rpm$/);
    expect(pulls?.heads.slice(4)).toEqual(["Torque", "Power", "Leanest", "Most boost"]);
    expect(pulls?.caption).toContain("the 8 widest of");
    expect(pulls?.rows).toHaveLength(8);
  });

  test("JSON holds it in the published form", () => {
    const json = sheetJson(input);
    const valid = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true }).compile(schema);
    expect(valid(JSON.parse(JSON.stringify(json))), JSON.stringify(valid.errors?.slice(0, 3))).toBe(true);
    expect(json.recordings).toHaveLength(1);
    expect(json.recordings[0]).toMatchObject({ file: "runs/hill.csv", date: "2027-06-12", problem: null, rows: ROWS.length });
    expect(json.recordings[0]?.limits.find((l) => l.what === "redline")).toMatchObject({ unit: "rpm", worst: { limit: 6500 } });
    const unread = sheetJson(made(BUILD).input).recordings;
    expect(unread).toMatchObject([{ file: "runs/hill.csv", problem: "missing", rows: null }]);
  });

  test("the page holds tables and drawings with their words", () => {
    const html = sheetHtml(model);
    for (const words of ["Lowest and highest in", "Pulls in", "The recording of 2027-06-12 by speed", "laid over each other"]) expect(html).toContain(words);
  });
});

describe("a recording that has not been read", () => {
  test("is told as not checked, with its mapping as written", () => {
    const { model } = made(BUILD.replace("--- runs", ""));
    expect(model.findings.map((f) => f.rule)).toContain("recording-unreadable");
    const bare = { ...projectOf(BUILD) };
    const { recordings: _, ...project } = bare;
    const unread = buildSheet(project, MAIN, { nameOf: (uri) => uri, asOf: "2027-07-01" });
    if ("refusal" in unread) throw new Error(unread.refusal);
    expect(unread.model.notChecked.map((n) => n.what)).toEqual(['the recording "runs/hill.csv", which has not been read']);
  });
});

describe("drawn by speed", () => {
  const { input } = made();
  const source = { build: input.build, sheet: input.sheet, system: "metric" as const };

  test("is oil pressure as the mean of each step, against the curve asked for", () => {
    const drawing = recording(source);
    if (!drawing) throw new Error("nothing was drawn");
    expectWellMade(drawing);
    const oil = pointsOf(part(drawing, "oil 1"));
    const hot = ROWS.filter((r) => r.water >= 70);
    const steps = [...new Set(hot.map((r) => Math.floor(r.rpm / 250)))].sort((a, b) => a - b);
    expect(oil).toHaveLength(steps.length);
    const mean = (step: number) => {
      const own = hot.filter((r) => Math.floor(r.rpm / 250) === step).map((r) => r.oil);
      return own.reduce((a, b) => a + b, 0) / own.length;
    };
    // The panel stands on nought; heights count from its foot.
    const height = (i: number) => 1000 - (oil[i]?.[1] ?? 0);
    const last = steps.length - 1;
    expect(height(0) / height(last)).toBeCloseTo(mean(steps[0] as number) / mean(steps[last] as number), 2);
    expect(pointsOf(part(drawing, "mixture 2"))).toHaveLength(2);
    expect(drawing.alternative).toContain("the limits it was held against");
    expect(printed(drawing)).toContain("oil pressure, hot");
  });

  test("are its two widest pulls over each other, as they were read", () => {
    const drawing = recordedPulls(source);
    if (!drawing) throw new Error("nothing was drawn");
    expectWellMade(drawing);
    expect(pointsOf(part(drawing, "torque 1")).length).toBeGreaterThan(8);
    expect(pointsOf(part(drawing, "torque 2")).length).toBeGreaterThan(8);
    expect(drawing.title).toBe("Two pulls of the recording of 2027-06-12, laid over each other");
  });

  test("of two recordings, are the widest of each", () => {
    const two = made(BUILD.replace("  log \"runs/hill.csv\" on 2027-06-12", `  log "runs/early.csv" on 2027-05-30 { time: "Time"; rpm: "Engine Speed"; throttle: "Throttle"; torque: "Torque" }\n  log "runs/hill.csv" on 2027-06-12`) + `--- runs/hill.csv\n${written(ROWS)}--- runs/early.csv\n${written(roadTest(60, 20, 5))}`).input;
    const drawing = recordedPulls({ ...source, build: two.build, sheet: two.sheet });
    if (!drawing) throw new Error("nothing was drawn");
    expectWellMade(drawing);
    expect(drawing.title).toBe("Widest pull of the recording of 2027-06-12, laid over that of the recording of 2027-05-30");
    expect(pointsOf(part(drawing, "torque 2")).length).toBeGreaterThan(8);
  });

  test("is nothing where nothing was read", () => {
    const none = made(BUILD).input;
    expect(recording({ ...source, build: none.build, sheet: none.sheet })).toBeUndefined();
    expect(recordedPulls({ ...source, build: none.build, sheet: none.sheet })).toBeUndefined();
  });
});

describe("in the editor", () => {
  const analysis = analyseText(TEXT);
  const at = (words: string, into = 1) => BUILD.indexOf(words) + into;
  test("its path says what it came to", () => {
    const text = hoverAt(analysis, MAIN, at("runs/hill.csv"))?.markdown ?? "";
    expect(text).toContain(`**${ROWS.length} rows, 90.0 s**`);
    expect(text).toMatch(/- over the redline at [\d.]+ s and \d+ rpm, for /);
    expect(text).toMatch(/- lean under load at /);
  });
  test("a heading says what is in its column", () => {
    const peak = Math.max(...ROWS.map((r) => r.rpm));
    expect(hoverAt(analysis, MAIN, at('"Engine Speed"'))?.markdown).toContain(`to ${peak} rpm at `);
  });
  test("between quotes stand the headings of the file, free ones first", () => {
    const text = TEXT.replace('coolant: "Coolant"', 'coolant: "C"');
    const offers = completionsAt(analyseText(text), MAIN, text.indexOf('coolant: "C"') + 11);
    expect(offers.map((o) => o.label)).toContain("Coolant (°C)");
    expect(offers.find((o) => o.label === "Coolant (°C)")?.span).toEqual({ start: text.indexOf('coolant: "C"') + 10, end: text.indexOf('coolant: "C"') + 11 });
    expect(Math.min(...offers.map((o) => o.rank))).toBe(0);
  });
  test("its path is a link to the file", () => {
    const file = analysis.project.files.get(MAIN);
    expect(file && linksOf(file).map((l) => [l.path, l.target, l.words])).toEqual([["runs/hill.csv", "file:///project/runs/hill.csv", "Open the recording"]]);
  });
});
