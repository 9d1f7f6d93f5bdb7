// A fix that a rule offers, once made, leaves its finding gone.
import { describe, expect, test } from "vitest";
import { RULES } from "../../server/rules/index.ts";
import type { Finding } from "../../server/rules/finding.ts";
import { AS_OF, MAIN, analyseText, applyEdits, rulesIn, shown } from "../support/project.ts";

function found(text: string, rule: string): { finding: Finding; make: (title: RegExp) => string } {
  const analysis = analyseText(text);
  const finding = analysis.fileResult(MAIN)?.findings.find((f) => f.rule === rule);
  if (!finding) throw new Error(`${rule} was not found`);
  return {
    finding,
    make(title) {
      const fix = finding.fixes.find((f) => title.test(f.title));
      if (!fix) throw new Error(`no fix reads ${title}: ${finding.fixes.map((f) => f.title).join("; ")}`);
      return applyEdits(text, fix.edits, analysis);
    },
  };
}

describe("fixes of the page's bad example", () => {
  const offering = RULES.filter((r) => analyseText(r.page.bad).fileResult(MAIN)?.findings.some((f) => f.rule === r.id && f.fixes.length > 0));
  test.each(offering)("of $id leave it gone and raise no error", (rule) => {
    const analysis = analyseText(rule.page.bad);
    const finding = analysis.fileResult(MAIN)?.findings.find((f) => f.rule === rule.id);
    for (const fix of finding?.fixes ?? []) {
      const result = analyseText(applyEdits(rule.page.bad, fix.edits, analysis), AS_OF).fileResult(MAIN);
      expect(result?.findings.filter((f) => f.rule === rule.id || f.severity === "error").map(shown), fix.title).toEqual([]);
    }
  });
});

describe("need-unmet", () => {
  const text = `engine dunlin-18 { source: "workshop manual"; cylinders: 4 }
part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  needs valve-spring where coil-bind-margin >= 1.5 mm
}
build wren-hill-2 on dunlin-18 {
  fuel: petrol
  fit ridgeway-272 // from the box

  redline: 7000 rpm
}
`;
  test("lays the missing part out after the last fit, its essential keys as holes, and leaves the rest alone", () => {
    const mended = found(text, "need-unmet").make(/valve-spring/);
    expect(mended).toMatch(/ {2}fit ridgeway-272\n {2}fit valve-spring \{\n( {4}[a-z-]+: …( [a-zA-Z/·]+)?\n)+ {2}\}/);
    expect(mended).toMatch(/ {4}solid-height: … mm\n/);
    expect(mended).toContain("// from the box");
    expect(mended).toContain("redline: 7000 rpm");
    expect(rulesIn(mended)).not.toContain("need-unmet");
    expect(rulesIn(mended)).toContain("not-filled-in");
  });
  test("points from the fit to where the part asks for it", () => {
    const { finding } = found(text, "need-unmet");
    const at = finding.related[0]?.at;
    expect(at && at.tree.text.slice(at.span.start, at.span.end)).toBe("needs valve-spring where coil-bind-margin >= 1.5 mm");
  });
  test("lays out a shaft, whose figures are a side's, side by side", () => {
    const mended = found(text.replace("needs valve-spring where coil-bind-margin >= 1.5 mm", "needs cam-gear where adjustable"), "need-unmet").make(/cam-gear/);
    expect(mended).toMatch(/fit cam-gear \{\n {4}adjustable: …/);
  });
});

describe("unresolved-name", () => {
  test("uses the file that declares the name, after the uses there are", () => {
    const text = `use "engines/dunlin-18.tappet"

build wren-hill-2 on dunlin-18 {
  fit light-18
}
--- engines/dunlin-18.tappet
engine dunlin-18 { source: "workshop manual"; cylinders: 4 }
--- my parts/light.tappet
part retainer light-18 for any { source: "box label" }`.replace("my parts", "parts");
    const mended = found(text, "unresolved-name").make(/^Use "parts\/light\.tappet"$/);
    expect(mended.startsWith('use "engines/dunlin-18.tappet"\nuse "parts/light.tappet"\n\nbuild')).toBe(true);
    expect(rulesIn(mended)).toEqual([]);
  });
  test("reaches files above and beside", () => {
    const text = `build wren-hill-2 on dunlin-18 {
}
--- engines/dunlin-18.tappet
engine dunlin-18 { source: "workshop manual"; cylinders: 4 }`;
    expect(rulesIn(found(text, "unresolved-name").make(/^Use "engines\/dunlin-18\.tappet"$/))).toEqual([]);
  });
});

describe("slips", () => {
  test("keep tolerance, qualifier and comment of the figure they mend", () => {
    const text = `engine dunlin-18 { source: "workshop manual"; cylinders: 4; valve-gear { intake { lash: 0.20 ± 0.02 mm cold } } }
build wren-hill-2 on dunlin-18 {
  lash { intake: 2.0 mm cold } // as set
}
`;
    expect(found(text, "decimal-slip").make(/0\.20 mm/)).toContain("lash { intake: 0.20 mm cold } // as set");
  });
  test("exchange the unit and nothing else", () => {
    const text = `engine dunlin-18 { source: "workshop manual"; cylinders: 4; fastener cam-gear { thread: M10x1.25; torque: 38 .. 42 ft-lb oiled } }
build wren-hill-2 on dunlin-18 {
  fastener cam-gear { torque: 40 N·m oiled }
}
`;
    expect(found(text, "unit-mixed").make(/40 ft-lb/)).toContain("torque: 40 ft-lb oiled");
  });
});
