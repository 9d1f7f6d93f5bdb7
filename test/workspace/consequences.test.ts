/** One slip is one finding at its cause: what rests on it is not reported, and comes back once the cause is put right or answered for. */
import { describe, expect, test } from "vitest";
import { resultOf } from "../support/project.ts";

const engine = (body: string) => `engine e "E" {\n  source: "manual"\n  cylinders: 4\n  bore: 83.00 mm\n  stroke: 82.00 mm\n${body}\n}\n`;
const rules = (text: string) => resultOf(text).findings.map((f) => f.rule).sort();

describe("findings that rest on a wrong figure", () => {
  const springs = (seat: string, waive = "") => `${engine(`  valve-gear { intake { rocker-ratio: 1.50 }; valve-spring { seat-height: ${seat}; solid-height: 27.4 mm } }\n  camshaft { intake { lobe-lift: 7.10 mm } }\n${waive}`)}`;

  test("are left out where the figure reads like a slip", () => {
    expect(rules(springs("3.80 mm"))).toEqual(["decimal-slip"]);
  });

  test("are there again where the figure is right", () => {
    expect(rules(springs("38.0 mm"))).toEqual(["coil-bind-margin"]);
  });

  test("are there where somebody answers for the figure", () => {
    const text = springs("3.80 mm", '  waive decimal-slip because "measured twice" until 2099-01-01');
    expect(rules(text)).toContain("impossible-set");
  });

  test("are left out where two figures cannot both be true", () => {
    // Solid at its seat: the margin would be less than nothing as well.
    expect(rules(springs("27.0 mm"))).toEqual(["impossible-set"]);
  });

  test("are left out in every build on an engine that says it wrongly", () => {
    const text = `${springs("27.0 mm")}part camshaft shaft for e { source: "card"; intake { lobe-lift: 7.50 mm } }\nbuild b on e { interference: no; fit shaft }\n`;
    expect(rules(text)).toEqual(["impossible-set"]);
  });

  test("are left out behind a figure of nothing, and no value is nonsense", () => {
    const text = `${engine("  stated-displacement: 1775 cc\n  stated-compression: 9.4:1\n  redline: 6500 rpm\n  combustion { chamber: 44.6 cc; piston-dish: 3 cc; gasket-bore: 84 mm; gasket-thickness: 0.8 mm crushed; deck: 0.15 mm below }").replace("bore: 83.00 mm", "bore: 0 mm")}`;
    const { findings, subjects } = resultOf(text);
    expect(findings.map((f) => f.rule)).toEqual(["impossible-figure"]);
    for (const s of subjects) for (const v of s.sheet.values) for (const x of Object.values(v.interval ?? {})) expect(Number.isFinite(x), v.id).toBe(true);
  });

  test("do not take others with them", () => {
    const text = `${engine("  redline: 6500 rpm\n  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }")}build b on e {\n  redline: 65000 rpm\n  lash { intake: 0.10 mm cold }\n  check "speed" piston-speed.mean <= 20 m/s\n}\n`;
    const found = rules(text);
    expect(found).toContain("lash-tight");
    expect(found).toContain("decimal-slip");
    expect(found).not.toContain("check-failed");
  });
});
