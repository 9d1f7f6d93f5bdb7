// A cam gear set further than it goes, or between its marks.
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf, written } from "./wording.ts";

/** Share of a mark by which a setting may miss it and still be that mark: what an eye tells at the gear. Common practice, no source. */
const ON_THE_MARK = 0.05;

export const RULE: BuildRule = {
  id: "mark-off-range",
  scope: "build",
  on: ["build"],
  severity: "error",
  page: {
    summary: "A cam gear is set beyond its range, or between two of its marks.",
    why: "A gear cannot be bolted up past its slots, and a setting between marks will not be found again after the next belt.",
    limit: "The gear's own `range` and `mark-spacing`, both taken to crank degrees: one degree of the cam is two of the crank. Beyond the range is an error, between the marks a warning.",
    source: "the gear's own figures; the camshaft turns at half crank speed",
    remedy: "Choose a setting on a mark within the range, or fit a gear that reaches it.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part cam-gear vernier-18 for dunlin-18 {
  source: "box label"
  mark-spacing: 1 deg crank
  range: ± 8 deg crank
}

build wren-hill-2 on dunlin-18 {
  fit vernier-18 { set: 5 deg cam retarded }
  measured piston-valve on 2027-03-15 { intake: 2.9 mm; exhaust: 2.7 mm; method: clay }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part cam-gear vernier-18 for dunlin-18 {
  source: "box label"
  mark-spacing: 1 deg crank
  range: ± 8 deg crank
}

build wren-hill-2 on dunlin-18 {
  fit vernier-18 { set: 3 deg crank retarded }
  measured piston-valve on 2027-03-15 { intake: 2.9 mm; exhaust: 2.7 mm; method: clay }
}
`,
  },
  check({ build, report }) {
    for (const step of ["", "intake.", "exhaust."]) {
      const path = `cam-gear.${step}set`;
      const set = effective(build.slots.get(path));
      const degrees = set && crankDegrees(set);
      if (!set || degrees === undefined) continue;
      const at = set.location;
      const range = gearFigure(build, step, "range");
      const reach = range && crankBounds(range);
      if (range && reach !== undefined && compareWithLimit(Math.abs(degrees.nominal), reach) > 0) {
        report({ message: `The gear is set to ${written(set)} and goes no further than ${written(range)}. Choose a setting within its range.`, at, path, related: [{ message: "Its range stands here.", at: range.location }] });
        continue;
      }
      const spacing = gearFigure(build, step, "mark-spacing");
      const mark = spacing && crankDegrees(spacing);
      if (!spacing || !mark || mark.nominal <= 0) continue;
      const marks = Math.abs(degrees.nominal) / mark.nominal;
      if (Math.abs(marks - Math.round(marks)) <= ON_THE_MARK) continue;
      report({
        message: `The gear is set to ${written(set)}, which is ${Number(marks.toFixed(2))} marks of ${written(spacing)}, between two of them. Set it on a mark.`,
        at, path, severity: "warning", related: [{ message: "Its marks are described here.", at: spacing.location }],
      });
    }
  },
};

function gearFigure(build: EffectiveBuild, step: string, key: string): Provided | undefined {
  return effective(build.slots.get(`cam-gear.${step}${key}`)) ?? effective(build.slots.get(`cam-gear.${key}`));
}

/** In crank degrees; undefined where the figure does not say whose degrees it is in. */
function crankDegrees(provided: Provided): { readonly nominal: number } | undefined {
  const value = quantityOf(provided);
  const factor = value && factorOf(value.qualifiers);
  return value && factor !== undefined ? { nominal: value.quantity.interval.nominal * factor } : undefined;
}

function crankBounds(provided: Provided): number | undefined {
  const value = quantityOf(provided);
  const factor = value && factorOf(value.qualifiers);
  return value && factor !== undefined ? Math.max(Math.abs(value.quantity.interval.low), Math.abs(value.quantity.interval.high)) * factor : undefined;
}

function factorOf(qualifiers: Readonly<Record<string, string>>): number | undefined {
  return qualifiers["degrees-of"] === "crank" ? 1 : qualifiers["degrees-of"] === "cam" ? 2 : undefined;
}
