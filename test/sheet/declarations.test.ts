/** The declarations of the formulas, held against themselves and against the schema. */
import { describe, expect, it } from "vitest";
import { kindOf, unitFits } from "../../server/quantity/kinds.ts";
import { keyOfPath } from "../../server/schema/lookup.ts";
import { MEASUREMENTS } from "../../server/schema/measurements.ts";
import { type Formula, type Input, at } from "../../server/sheet/formula.ts";
import { FORMULAS } from "../../server/sheet/formulas/index.ts";

const PLACES: Readonly<Record<NonNullable<Formula["each"]>, readonly string[]>> = { side: ["intake", "exhaust"], fastener: ["some-bolt"], pull: ["on-2027-04-02"], log: ["on-2027-06-12"], "pull-speed": ["at-5250"], gear: ["2"], cylinder: ["3"] };
const placesOf = (f: Formula) => (f.each === undefined ? [""] : PLACES[f.each]);
const instances = FORMULAS.flatMap((f) => placesOf(f).map((each) => ({ id: at(f.id, each), formula: f, each })));
const ids = new Set(instances.map((i) => i.id));

/** Paths that only a reading ever gives. */
const MEASURED_PATHS = new Set(MEASUREMENTS.flatMap((m) => (m.reads === undefined ? [] : [m.reads])));

function leaves(input: Input<unknown>): readonly Input<unknown>[] {
  return input.reads === "either" ? input.of.flatMap(leaves) : [input];
}

const looksUp = (input: Input<unknown>): input is Extract<Input<unknown>, { reads: "table" | "thing" }> => input.reads === "table" || input.reads === "thing";

/** Tables that a formula reads, by the path of the block that holds them. */
const TABLES = new Set(["intake", "exhaust"].map((side) => `camshaft.${side}.lobe`));

describe("formulas", () => {
  it("are each declared once", () => {
    expect(ids.size).toBe(instances.length);
  });

  it("hold every id that the design promises", () => {
    const promised = [
      "displacement.cylinder", "displacement.total", "displacement.disagreement", "rod-ratio", "piston-speed.mean", "piston-speed.peak", "piston-acceleration.peak", "rod-tension.peak",
      "squish-clearance", "clearance-volume", "compression.static", "compression.disagreement", "compression.dynamic", "cam-gear.shift", "cam-gear.marks", "cam-gear.tooth",
      ...["intake", "exhaust"].flatMap((side) => [
        `centreline.${side}.installed`, `event.${side}.opens`, `event.${side}.closes`, `lift.${side}.gross`, `lift.${side}.net`, `spring.rate.${side}`, `spring.seat-load.${side}`, `spring.open-load.${side}`,
        `coil-bind-margin.${side}`, `retainer-guide-margin.${side}`,
      ]),
      "bearing.main.clearance", "bearing.rod.clearance", "bearing.cam.clearance", "thrust.endplay", "cam.endplay", "rod.side-clearance", "piston-wall.clearance", "ring-gap.top.required", "ring-gap.second.required",
      "air.pressure", "air.density", "boost.pressure-ratio", "charge.temperature", "blower.speed", "blower.boost-estimate", "airflow.engine", "mixture.lambda", "mixture.afr", "power.estimate",
      "injector.flow", "injector.duty", "pump.flow", "compression.with-boost",
      "pull.peak.torque", "pull.peak.power", "pull.disagreement", "pull.power.at-5250", "pull.corrected.sae-j1349.power", "pull.corrected.iso-1585.power", "pull.on-2027-04-02.peak.power", "log.on-2027-06-12.leanest", "log.on-2027-06-12.most-boost", "log.on-2027-06-12.over-redline", "log.on-2027-06-12.corrected.sae-j1349.power", "bmep.peak", "speed.gear.2", "cranking.spread", "leak-down.worst",
      "lobe-separation", "overlap", "spring.rate", "spring.seat-load", "spring.open-load", "coil-bind-margin", "retainer-guide-margin", "spring.stress", "spring.surge-frequency", "valve-float.speed", "lifter.preload",
      ...["stress-area", "proof-load", "clamp-load", "proof-fraction", "yield-fraction", "torque", "stretch", "angle-load", "torque-other-units", "engagement.required"].map((one) => `some-bolt.${one}`),
    ];
    expect(promised.filter((id) => !ids.has(id))).toEqual([]);
  });

  it("name only inputs that they have in the expression they print", () => {
    for (const { expression, inputs, id } of FORMULAS)
      for (const [, name] of expression.matchAll(/\{([^}]+)\}/g)) expect(Object.keys(inputs), `${id}: ${expression}`).toContain(name);
  });

  it("read only values that are declared and paths that the schema knows", () => {
    for (const { formula, each } of instances)
      for (const input of Object.values(formula.inputs).flatMap(leaves)) {
        if (input.reads === "value") expect(ids, `${formula.id} reads ${at(input.id, each)}`).toContain(at(input.id, each));
        else if (input.reads !== "either") {
          const paths = (looksUp(input) ? input.needs : input.paths).map((p) => at(p, each));
          // Of several paths that a figure may stand at, the schema must know one; a table's needs are all printed to the builder.
          const known = paths.filter((p) => keyOfPath(p) !== undefined || MEASURED_PATHS.has(p) || TABLES.has(p));
          expect(looksUp(input) ? known : known.slice(0, 1), `${formula.id} reads ${paths.join(" or ")}`).toEqual(looksUp(input) ? paths : paths.slice(0, 1));
        }
      }
  });

  it("stand on no value that stands on them", () => {
    const of = new Map(instances.map((i) => [i.id, i]));
    const open = new Set<string>();
    const done = new Set<string>();
    const visit = (id: string, path: readonly string[]): void => {
      if (done.has(id)) return;
      expect(open.has(id), [...path, id].join(" → ")).toBe(false);
      open.add(id);
      const one = of.get(id);
      if (one) for (const input of Object.values(one.formula.inputs).flatMap(leaves)) if (input.reads === "value") visit(at(input.id, one.each), [...path, id]);
      open.delete(id);
      done.add(id);
    };
    for (const id of ids) visit(id, []);
  });

  it("print in a unit of their kind, or in none where the kind has none", () => {
    for (const { id, kind, unit } of FORMULAS) {
      if (unit === undefined) expect(kindOf(kind).bare, `${id} has no unit`).toBe(true);
      else expect(unitFits(kind, unit), `${id} in ${unit}`).toBe(true);
    }
  });

  it("give a sentence, a source and a label each", () => {
    for (const { id, words, source, label } of FORMULAS) {
      expect(words, id).toMatch(/[.]$/);
      expect(source.length, id).toBeGreaterThan(5);
      expect(label.length, id).toBeGreaterThan(3);
    }
  });
});
