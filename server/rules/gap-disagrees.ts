// A gap between valves and piston, or between two valves, that was measured far from where the figures put it.
import { formatAgainst } from "../quantity/display.ts";
import { type UnitId, spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { MeasuredFact } from "../model/declaration.ts";
import type { MeasuredValue } from "../sheet/evaluate.ts";
import type { BuildRule } from "./rule.ts";
import { readingAt } from "./wording.ts";

/** How far clay and figures may lie apart, m: pockets, edges and a dial's readings make that much. Common practice, no source. */
const APART = 1.0e-3;

const GAPS = [
  { id: "piston-valve.intake.clearance", words: "between piston and intake valve" },
  { id: "piston-valve.exhaust.clearance", words: "between piston and exhaust valve" },
  { id: "valve-to-valve.clearance", words: "between intake and exhaust valve" },
] as const;

export const RULE: BuildRule = {
  id: "gap-disagrees",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A gap at the valves was measured far from where the lobe, the pockets and the heights put it.",
    why: "One of the two is wrong. If it is the clay, the valve may be nearer than you think; if it is a figure, everything else that rests on it is wrong too.",
    limit: "1.0 mm (0.040 in) between the least gap measured and the one worked out, where a lobe was measured point by point and every height is known. It is common practice: clay, pocket floors and rounded edges make that much.",
    source: "common practice, no source",
    remedy: "Measure again with a soft spring in and the clay oiled. Then look up recess, pocket, deck, gasket and the lobe's table.",
    cautions: ["timing-drive"],
    bad: `
engine whimbrel-20 {
  source: "workshop manual"
  cylinders: 4
  stroke: 88.40 mm
  rod-length: 145.0 mm
  combustion { gasket-thickness: 1.20 mm crushed; deck: 0.10 mm below }
  valve-gear {
    layout: dohc; actuation: bucket
    intake { rocker-ratio: 1; valve-angle: 22 deg; valve-recess: 1.0 mm; pocket-depth: 2.0 mm }
  }
  camshaft {
    intake {
      lobe-lift: 8.60 mm; centreline: 110 deg crank
      lobe {
        | angle (deg crank) | lift (mm at lobe) |
        |              -130 |              0.00 |
        |               -90 |              2.40 |
        |               -60 |              5.70 |
        |               -30 |              7.90 |
        |                 0 |              8.60 |
        |                30 |              7.90 |
        |                60 |              5.70 |
        |                90 |              2.40 |
        |               130 |              0.00 |
      }
    }
  }
}

build long-reach-1 on whimbrel-20 {
  measured piston-valve on 2027-02-21 { intake: 5.6 mm; method: clay }
}
`,
    good: `
engine whimbrel-20 {
  source: "workshop manual"
  cylinders: 4
  stroke: 88.40 mm
  rod-length: 145.0 mm
  combustion { gasket-thickness: 1.20 mm crushed; deck: 0.10 mm below }
  valve-gear {
    layout: dohc; actuation: bucket
    intake { rocker-ratio: 1; valve-angle: 22 deg; valve-recess: 1.0 mm; pocket-depth: 2.0 mm }
  }
  camshaft {
    intake {
      lobe-lift: 8.60 mm; centreline: 110 deg crank
      lobe {
        | angle (deg crank) | lift (mm at lobe) |
        |              -130 |              0.00 |
        |               -90 |              2.40 |
        |               -60 |              5.70 |
        |               -30 |              7.90 |
        |                 0 |              8.60 |
        |                30 |              7.90 |
        |                60 |              5.70 |
        |                90 |              2.40 |
        |               130 |              0.00 |
      }
    }
  }
}

build long-reach-1 on whimbrel-20 {
  measured piston-valve on 2027-02-21 { intake: 3.2 mm; method: clay }
}
`,
  },
  check({ build, sheet, report }) {
    for (const { id, words } of GAPS) {
      const value = sheet.byId.get(id);
      const expected = value?.interval;
      // What was assumed to come to a figure is no figure to hold a reading against.
      if (!value || !expected || value.assumptions.length > 0) continue;
      const read = value.measured.filter((m) => m.readings.some((r) => r.valueId === id) && m.value.interval !== undefined);
      const nominal = (m: MeasuredValue) => m.value.interval?.nominal ?? 0;
      const least = [...read].sort((a, b) => nominal(a) - nominal(b))[0];
      const at = least?.readings.findLast((r) => r.valueId === id)?.location;
      if (!least || !at) continue;
      const found = nominal(least);
      if (found >= expected.low - APART && found <= expected.high + APART) continue;
      const unit = unitOf(build.measured, at.span.start) ?? "millimetre";
      const shown = formatAgainst(expected.nominal, found, "length", unit);
      report({
        message: `The gap ${words} was measured at ${readingAt(build, at)}, and lobe, pockets and heights put it at ${shown.value} ${spellingOfUnit(unit)}. One of them is wrong: measure again, and look the figures up.`,
        at, path: id, related: value.from.filter((l) => l.tree !== build.subject.tree).slice(0, 6).map((l) => ({ message: "A figure it rests on.", at: l })),
      });
    }
  },
};

/** The unit that a reading of the build was written in. */
function unitOf(measured: readonly MeasuredFact[], start: number): UnitId | undefined {
  for (const fact of measured) {
    for (const r of fact.readings) if (r.span.start === start) return r.quantity.unit;
    for (const f of fact.figures) if (f.span.start === start && f.value.is === "quantity") return f.value.quantity.unit;
  }
  return undefined;
}
