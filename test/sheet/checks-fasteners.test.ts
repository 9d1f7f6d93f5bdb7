/**
 * The published checks of fasteners (f-): each that a file can state is written as one, analysed, and read off the sheet's JSON; the rest are named
 * here with why no file states them, and are held at their function by test/engineering/reference.test.ts. Both are counted.
 */
import { describe, expect, it } from "vitest";
import { atlasOf } from "../../server/report/place.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import checks from "../reference/checks.json" with { type: "json" };
import { listedPairs, pairsOf } from "../reference/formula-checks.ts";
import { toSi, unitFactor } from "../reference/reference-units.ts";
import { AS_OF, MAIN, analyseText } from "../support/project.ts";

type Check = (typeof checks)[number];

interface Given {
  readonly id: string;
  /** An input as the check prints it. */
  (name: string): number;
}

interface Case {
  /** What stands in the fastener's block. */
  readonly text: (g: Given) => string;
  /** Its value on the sheet, or what follows from several of them, in SI. */
  readonly value: string | ((sheet: (id: string) => number, g: Given) => number);
  /** In SI, where it is not what the check prints. */
  readonly expected?: (g: Given, printed: number) => number;
}

const INCH_SIZES: Readonly<Record<string, string>> = { "0.25": "1/4", "0.3125": "5/16", "0.375": "3/8", "0.4375": "7/16", "0.5": "1/2", "0.5625": "9/16", "0.625": "5/8", "0.875": "7/8", "1.125": "9/8" };
const COARSE: Readonly<Record<string, string>> = { "6": "1", "8": "1.25", "10": "1.5", "12": "1.75", "14": "2" };
const metric = (g: Given) => `M${g("d")}x${g("P")}`;
const part = (g: Given, pattern: RegExp) => (pattern.exec(g.id) ?? []).slice(1) as string[];
/** Areas are printed to three or four figures, and the printed loads were worked out from those. */
const printedArea = (d: number, pitch: number, inch: boolean) => (Math.PI / 4) * (d - (inch ? 0.9743 : 0.9382) * pitch) ** 2;
const shank = "thread: M10x1.25; grip: 50 mm; shank-length: 30 mm; modulus: 207 GPa; class: 10.9";

/** What lies on the thread where a textbook's nut factor stands for it. */
const NUT_FACTOR_STATES: Readonly<Record<string, string>> = { "nonplated": "dry", "lubricated": "oiled", "with-a-proprietary-anti-seize": "anti-seize" };

const CASES: readonly (readonly [RegExp, Case])[] = [
  [/^f-as-m/, { text: (g) => `thread: ${metric(g)}`, value: "one.stress-area" }],
  [/^f-at-/, { text: (g) => `thread: ${INCH_SIZES[String(g("d"))]}-${g("n")}`, value: "one.stress-area" }],
  [/^f-class-[\d.]+-d\d+-(proof|yield|tensile)$/, {
    text: (g) => { const [grade, d] = part(g, /class-([\d.]+)-d(\d+)/); return `thread: M${d}x1.5; class: ${grade}`; },
    value: (sheet, g) => sheet(`one.${part(g, /-(\w+)$/)[0]}-strength`),
  }],
  [/^f-sae\d-[\d.]+-(proof|yield|tensile)$/, {
    text: (g) => { const [grade, d = ""] = part(g, /sae(\d)-([\d.]+)-/); return `thread: ${INCH_SIZES[d]}-10; grade: grade ${grade}`; },
    value: (sheet, g) => sheet(`one.${part(g, /-(\w+)$/)[0]}-strength`),
  }],
  [/^f-proof-m\d+(x[\d.]+)?-[\d.]+$/, {
    text: (g) => { const [d = "", pitch, grade] = part(g, /m(\d+)(?:x([\d.]+))?-([\d.]+)$/); return `thread: M${d}x${pitch ?? COARSE[d]}; class: ${grade}`; },
    value: (sheet, g) => { const [d = "", pitch] = part(g, /m(\d+)(?:x([\d.]+))?-/); return (sheet("one.proof-load") * g("A_s")) / printedArea(Number(d), Number(pitch ?? COARSE[d]), false); },
  }],
  [/^f-proof-\d+_\d+-\d+-g\d$/, {
    text: (g) => { const [a, b, n, grade] = part(g, /proof-(\d+)_(\d+)-(\d+)-g(\d)/); return `thread: ${a}/${b}-${n}; grade: grade ${grade}`; },
    value: (sheet, g) => { const [a = 0, b = 1, n = 1] = part(g, /proof-(\d+)_(\d+)-(\d+)/).map(Number); return (sheet("one.proof-load") * g("A_t")) / printedArea(a / b, 1 / n, true); },
  }],
  // The factor that the sheet used, out of the load it gave: K = T/(F·d).
  [/^f-k-/, { text: (g) => `thread: M10x1.5; torque: 30 N·m ${NUT_FACTOR_STATES[part(g, /^f-k-(.*)$/)[0] ?? ""]}`, value: (sheet) => 30 / (sheet("one.clamp-load-short-form") * 0.01) }],
  // The check goes from a load to its torque; the file gives that torque and must get the load.
  [/^f-tkd-m10$/, { text: () => "thread: M10x1.5; torque: 50.55 N·m zinc-plated", value: "one.clamp-load-short-form", expected: (g) => 0.75 * g("Fp") }],
  [/^f-tkd-m10-lub$/, { text: (g) => `thread: M10x1.5; torque: ${g("T")} N·m anti-seize`, value: "one.clamp-load-short-form" }],
  // The guideline tightens to nine tenths of what pull and twist together bring to yield.
  [/^f-vdi-.*-F$/, { text: (g) => `thread: ${metric(g)}; class: ${part(g, /-(\d+\.\d)-F$/)[0]}; torque: 10 N·m oiled`, value: (sheet) => 0.9 * sheet("one.yield-load") }],
  // As with the textbook's: the printed torque must give the load that it is printed for.
  [/^f-vdi-m\d+x.*-M$/, { text: (g) => `thread: ${metric(g)}; torque: ${printedOf(g.id)} N·m oiled; head-diameter: ${g("d_w")} mm; hole-diameter: ${g("d_h")} mm`, value: "one.clamp-load", expected: (g) => 1000 * g("F") }],
  [/^f-kb$/, { text: () => `${shank}; torque: 40 N·m oiled`, value: "one.stiffness" }],
  [/^f-angle-(joint|90-elastic)$/, { text: (g) => `${shank}; tighten: 10 N·m oiled, then ${g("theta")} deg; joint-stiffness: 3`, value: "one.angle-load" }],
  [/^f-stretch$/, { text: () => `${shank}; torque: 60 N·m oiled`, value: (sheet, g) => (sheet("one.stretch") * 1000 * g("F")) / sheet("one.clamp-load") }],
  [/^f-wrench-/, { text: (g) => `thread: M10x1.5; torque: ${g("T")} N·m oiled`, value: "one.wrench-deviation" }],
  [/^f-engage-/, { text: (g) => `thread: M10x1.5; tapped-into: ${part(g, /^f-engage-(.*)$/)[0]}`, value: "one.engagement.required" }],
  [/^f-strip-force$/, { text: (g) => `thread: M10x1.5; engagement: 15 mm; tapped-strength: ${g("tau")} MPa`, value: "one.strip-load" }],
  [/^f-crow-/, { text: (g) => `thread: M10x1.5; torque: ${g("T")} N·m oiled; wrench-length: ${g("L")} mm; extension: ${g("E")} mm; extension-angle: ${g("theta")} deg`, value: "one.wrench-setting" }],
  [/^f-prev$/, { text: (g) => `thread: M8x1.25; torque: ${g("T")} N·m oiled; prevailing-torque: ${g("Tp")} N·m`, value: "one.torque-with-prevailing" }],
];

/** Checks that no file states, with the reason. They are held at their function. */
const ROUNDED = "exact only with the guideline's rounded coefficients, where the sheet takes those of ISO 16047";
const AT_THE_FUNCTION: Readonly<Record<string, string>> = {
  "f-sh83-stress": "no file states a preload", "f-sh83-c": "no file states what pulls on a joint from outside", "f-sh83-long": "the power-screw form is a cross-check of the long form, not on the sheet",
  "f-long-m10": "a file states one lubrication, and thread and head share its friction", "f-long-split": "as f-long-m10",
  "f-vdi-m8-8.8-M": ROUNDED, "f-vdi-m10-8.8-M": ROUNDED, "f-vdi-m10-10.9-M": ROUNDED, "f-vdi-m12-8.8-M": ROUNDED, "f-vdi-m12-10.9-M": ROUNDED, "f-vdi-m12-12.9-M": ROUNDED, "f-vdi-m14-10.9-M": ROUNDED,
  "f-angle-rigid": "no file states a joint that does not give", "f-strip-minL": "the length at which a hole just carries a load is no value of the sheet",
};

const mine = checks.filter((check) => check.id.startsWith("f-"));
const caseOf = (id: string): Case | undefined => CASES.find(([pattern]) => pattern.test(id))?.[1];

function printedOf(id: string): number {
  return Number(checks.find((c) => c.id === id)?.expected.value);
}

function givenOf(check: Check): Given {
  const inputs = check.inputs as Record<string, { value: number | string; unit: string } | undefined>;
  return Object.assign((name: string) => {
    const found = inputs[name];
    if (!found) throw new Error(`${check.id} has no input ${name}`);
    return Number(found.value);
  }, { id: check.id });
}

/** The units of the JSON sheet in SI, apart from the project's own table. */
const SI: Readonly<Record<string, number>> = { "mm²": 1e-6, mm: 1e-3, N: 1, kN: 1000, "N·m": 1, MPa: 1e6, "N/mm": 1000, deg: 1 };

/** The values of a file's last sheet as its JSON gives them, brought to SI. */
function valuesOf(text: string): (id: string) => number {
  const analysis = analyseText(text);
  const subject = analysis.fileResult(MAIN)?.subjects.at(-1);
  if (!subject) throw new Error("the text declares nothing to work out");
  const atlas = atlasOf(analysis.project, analysis.places, (uri) => uri);
  const json = JSON.parse(JSON.stringify(sheetJson({ ...subject, uri: MAIN, atlas, asOf: AS_OF, foundation: [] }))) as ReturnType<typeof sheetJson>;
  return (id) => {
    const value = json.values.find((v) => v.id === id);
    const factor = SI[value?.unit ?? ""];
    if (value?.nominal === undefined || value.nominal === null || factor === undefined) throw new Error(`no ${id} on the sheet: ${JSON.stringify(value)}`);
    return value.nominal * factor;
  };
}

/** The values of the sheet that answer a check. */
function valuesRead(check: Check): string[] {
  const one = caseOf(check.id) as Case;
  if (typeof one.value === "string") return [one.value];
  const ids: string[] = [];
  one.value((id) => ids.push(id), givenOf(check));
  return ids;
}

describe("a published check of fasteners", () => {
  it("is either written as a file or named with the reason why it cannot be", () => {
    expect(mine.filter((c) => caseOf(c.id) === undefined && AT_THE_FUNCTION[c.id] === undefined).map((c) => c.id)).toEqual([]);
    expect(Object.keys(AT_THE_FUNCTION).filter((id) => caseOf(id) !== undefined || !mine.some((c) => c.id === id))).toEqual([]);
    for (const [pattern] of CASES) expect(mine.some((c) => pattern.test(c.id)), String(pattern)).toBe(true);
    expect({ asFiles: mine.filter((c) => caseOf(c.id)).length, atTheFunction: Object.keys(AT_THE_FUNCTION).length, all: mine.length }).toEqual({ asFiles: 115, atTheFunction: 14, all: 129 });
  });

  it("stands beside its formula in the list that the page of formulas is written from", () => {
    const read = new Map(mine.filter((c) => caseOf(c.id)).map((check) => [check.id, valuesRead(check)] as const));
    expect(listedPairs(new Set(read.keys()))).toEqual(pairsOf(read));
  });

  for (const check of mine.filter((c) => caseOf(c.id))) {
    it(`as a file: ${check.what} (${check.id})`, () => {
      const one = caseOf(check.id) as Case;
      const given = givenOf(check);
      const sheet = valuesOf(`engine e "Check" {\n source: "a published check"\n cylinders: 4\n fastener one { ${one.text(given)} }\n}\n`);
      const worked = typeof one.value === "string" ? sheet(one.value) : one.value(sheet, given);
      const printed = toSi(Number(check.expected.value), check.expected.unit);
      const expected = one.expected?.(given, printed) ?? printed;
      const slack = check.tolerance.kind === "relative" ? Math.abs(expected) * Number(check.tolerance.value) : Number(check.tolerance.value) * Math.abs(unitFactor(check.expected.unit));
      // The sheet's JSON gives twelve figures.
      expect(Math.abs(worked - expected), `${worked} against ${expected}`).toBeLessThanOrEqual(slack * (1 + 1e-9) + Math.abs(expected) * 1e-11);
    });
  }
});
