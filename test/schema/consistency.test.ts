import { describe, expect, test } from "vitest";
import { RESERVED_WORDS, STATEMENT_WORDS, TOP_WORDS, unitOfSpelling } from "../../grammar/vocabulary.ts";
import { KINDS } from "../../server/quantity/kinds.ts";
import { CAUTIONS, cautionOf } from "../../server/schema/cautions.ts";
import { allEffectivePaths, keyOfPath, qualifierSet } from "../../server/schema/lookup.ts";
import { MEASUREMENTS } from "../../server/schema/measurements.ts";
import { PART_KINDS } from "../../server/schema/parts/index.ts";
import { DECLARATIONS, PHRASES } from "../../server/schema/phrases.ts";
import { QUALIFIER_SETS, UNSTATED } from "../../server/schema/qualifiers.ts";
import { SECTIONS } from "../../server/schema/sections.ts";
import { USUAL_JOBS, USUAL_STEPS } from "../../server/schema/steps.ts";
import { FORMULAS } from "../../server/sheet/formulas/index.ts";
import type { PartKind } from "../../server/schema/types.ts";
import { everyBlock, everyRow } from "./every-block.ts";

const BLOCKS = everyBlock();
const ROWS = everyRow();
const WORD = /^[a-z](?:[a-z0-9]|-[a-z0-9])*$/i;

/** Holds `holds` against every item and reports all that fail, by name. */
function none<T>(items: Iterable<T>, name: (item: T) => string, fails: (item: T) => boolean): void {
  expect([...items].filter(fails).map(name)).toEqual([]);
}

describe("blocks", () => {
  test("there are enough of them for the walk to have reached the schema", () => {
    expect(BLOCKS.size).toBeGreaterThan(100);
    expect(ROWS.length).toBeGreaterThan(500);
  });

  test("no block has a key, alias or column twice", () => {
    for (const [name, block] of BLOCKS) {
      const words = [...block.keys, ...("fitKeys" in block ? ((block as PartKind).fitKeys ?? []) : [])].flatMap((row) => [row.key, ...(row.aliases ?? [])]);
      expect(words.filter((word, i) => words.indexOf(word) !== i), name).toEqual([]);
      const columns = (block.table?.columns ?? []).map((row) => row.key);
      expect(new Set(columns).size, name).toBe(columns.length);
    }
  });

  test("no word is both a key and a block in one place, or a block and a statement", () => {
    for (const [name, block] of BLOCKS) {
      const inner = Object.keys(block.blocks ?? {});
      expect(inner.filter((word) => block.statements?.includes(word)), name).toEqual([]);
    }
  });

  test("every key, block and kind is a word the grammar reads as one", () => {
    none(ROWS, ([name]) => name, ([, row]) => !WORD.test(row.key));
    for (const [name, block] of BLOCKS) none(Object.keys(block.blocks ?? {}), (word) => `${name} > ${word}`, (word) => !WORD.test(word));
    none(PART_KINDS, (kind) => kind.id, (kind) => !WORD.test(kind.id));
  });

  test("no key is spelt like a unit that could follow a figure on the line before", () => {
    // A unit is never read before ":", so a clash could only mislead people: these few are the trade's own words.
    const clashes = ROWS.filter(([, row]) => unitOfSpelling(row.key) !== undefined).map(([, row]) => row.key);
    expect([...new Set(clashes)].sort()).toEqual(["afr", "deg", "inch", "lambda", "rpm"]);
  });

  test("every statement allowed in a block is a known phrase", () => {
    for (const [name, block] of BLOCKS) none(block.statements ?? [], (word) => `${name} > ${word}`, (word) => !Object.hasOwn(PHRASES, word));
  });

  test("a reserved word is never the name of a block or kind", () => {
    const reserved = new Set<string>(RESERVED_WORDS);
    for (const [name, block] of BLOCKS) none(Object.keys(block.blocks ?? {}), (word) => `${name} > ${word}`, (word) => reserved.has(word));
    none(PART_KINDS, (kind) => kind.id, (kind) => reserved.has(kind.id));
  });

  test("what explains a block or key is a sentence", () => {
    none(ROWS, ([name]) => name, ([, row]) => !/^[A-Z0-9].*\.$/s.test(row.words));
    none(BLOCKS, ([name]) => name, ([, block]) => !/^[A-Z0-9].*\.$/s.test(block.words));
    none(Object.values(PHRASES), (phrase) => phrase.word, (phrase) => !/^[A-Z].*\.$/s.test(phrase.words));
    for (const [name, row] of ROWS) {
      if (row.type.is === "word") none(Object.entries(row.type.options), ([word]) => `${name} > ${word}`, ([, words]) => !/^[A-Z0-9].*\.$/s.test(words));
    }
  });
});

describe("quantities", () => {
  test("every kind of quantity that a key asks for exists", () => {
    none(ROWS, ([name]) => name, ([, row]) => (row.type.is === "quantity" || row.type.is === "quantities") && !Object.hasOwn(KINDS, row.type.kind));
  });

  test("every qualifier set that a key names exists, and none is both required and optional", () => {
    none(ROWS, ([name]) => name, ([, row]) => [...(row.qualifiers ?? []), ...(row.mayQualify ?? [])].some((id) => !qualifierSet(id)));
    none(ROWS, ([name]) => name, ([, row]) => (row.qualifiers ?? []).some((id) => row.mayQualify?.includes(id)));
  });

  test("every qualifier set is asked for somewhere, and no word is in two", () => {
    const asked = new Set([...ROWS.flatMap(([, row]) => [...(row.qualifiers ?? []), ...(row.mayQualify ?? [])]), ...MEASUREMENTS.flatMap((m) => m.qualifiers ?? [])]);
    none(QUALIFIER_SETS, (set) => set.id, (set) => !asked.has(set.id));
    const words = QUALIFIER_SETS.flatMap((set) => Object.keys(set.options));
    expect(words.filter((word, i) => words.indexOf(word) !== i)).toEqual([]);
    expect(words).not.toContain(UNSTATED);
  });

  test("every usual span runs upward and says where it comes from", () => {
    none(ROWS, ([name]) => name, ([, row]) => row.usual !== undefined && !(row.usual.low < row.usual.high && Number.isFinite(row.usual.low) && Number.isFinite(row.usual.high) && row.usual.source.length > 8));
  });

  test("every usual share runs upward, says where it comes from, and is held against a figure or value there is", () => {
    const shares = ROWS.flatMap(([name, row]) => (row.usualPer ?? []).map((share) => [`${name} against ${share.path}`, share] as const));
    expect(shares.length).toBeGreaterThan(20);
    const values = new Set(FORMULAS.map((formula) => formula.id));
    const relative = (path: string) => path.startsWith(".") || path === "{other}" || path === "{spring-rate}";
    none(shares, ([name]) => name, ([, share]) => !(share.low >= 0 && share.low < share.high && Number.isFinite(share.high) && share.source.length > 8));
    none(shares, ([name]) => name, ([, share]) => !relative(share.path) && keyOfPath(share.path) === undefined && !values.has(share.path));
  });

  test("what a reading may be runs upward", () => {
    for (const { id, usual } of MEASUREMENTS) if (usual) expect(usual.low < usual.high && Number.isFinite(usual.high), id).toBe(true);
  });

  test("every measurable figure has a usual span to catch slips with", () => {
    none(
      ROWS.filter(([name]) => !name.startsWith("measured ")),
      ([name]) => name,
      ([, row]) => row.type.is === "quantity" && row.usual === undefined,
    );
  });
});

describe("effective paths", () => {
  test("every landing is a well-formed path, with {side} as its only blank", () => {
    none(ROWS, ([name]) => name, ([, row]) => row.lands !== undefined && !/^[a-z0-9-]+(\.([a-z0-9-]+|\{side\}))*$/.test(row.lands));
  });

  test("a part's figure that replaces an engine's lands where the engine's own key lands", () => {
    const engineOwn = new Map([...allEffectivePaths()]);
    for (const kind of PART_KINDS) {
      for (const row of [...kind.keys, ...(kind.fitKeys ?? [])]) {
        if (row.lands === undefined) continue;
        for (const side of ["intake", "exhaust"]) {
          const path = row.lands.replaceAll("{side}", side);
          const there = engineOwn.get(path);
          expect(there, `${kind.id} > ${row.key} lands on ${path}`).toBeDefined();
          expect(there === row, `${path} is known only from part ${kind.id}`).toBe(false);
          if (row.type.is === "quantity" && there?.type.is === "quantity") expect(there.type.kind, path).toBe(row.type.kind);
          else expect(there?.type.is, path).toBe(row.type.is);
          expect([...(row.qualifiers ?? [])].sort(), path).toEqual([...(there?.qualifiers ?? [])].sort());
        }
      }
    }
  });

  test("the paths that formulas start from exist", () => {
    const wanted = [
      "bore", "stroke", "rod-length", "cylinders", "redline", "firing-order", "stated-displacement", "combustion.chamber", "combustion.deck", "combustion.gasket-thickness",
      "combustion.piston-dish", "valve-gear.lash-at", "valve-gear.gear-teeth", "valve-gear.intake.lash", "valve-gear.exhaust.rocker-ratio",
      "valve-gear.valve-spring.wire", "valve-gear.valve-spring.intake.wire", "valve-gear.valve-spring.outer.wire", "valve-gear.valve-spring.intake.inner.wire",
      "camshaft.intake.duration", "camshaft.exhaust.lobe-lift", "camshaft.intake.lobe.lift", "cam-gear.set", "cam-gear.intake.set", "cam-gear.mark-spacing",
      "fastener.head-bolt.torque", "fastener.rod-bolt.stretch", "injector.flow", "blower.displacement", "boost.target", "air.altitude", "gearbox.ratios", "final-drive.ratio",
      "tyre.diameter", "fuel", "octane", "use", "bottom-end.main.clearance", "bottom-end.rings.top-gap", "limits.piston-speed", "lubricant.red-paste.grade",
    ];
    none(wanted, (path) => path, (path) => keyOfPath(path) === undefined);
  });

  test("no path outside the schema is taken for one", () => {
    none(["bore.bore", "valve-gear.middle.lash", "fastener.torque", "fastener.a.b.torque", "", "lubricant.grade.x"], (path) => path, (path) => keyOfPath(path) !== undefined);
  });

  test("what a part clears are paths there are", () => {
    const paths = [...allEffectivePaths().keys()];
    for (const kind of PART_KINDS) {
      for (const pattern of [...(kind.clears ?? []), ...(kind.keeps ?? [])]) {
        const expression = new RegExp(`^${pattern.replaceAll(".", "\\.").replace(/\*$/, ".+").replaceAll("*", "[^.]+")}$`);
        expect(paths.some((path) => expression.test(path)), `${kind.id} clears ${pattern}`).toBe(true);
      }
    }
  });
});

describe("measurements", () => {
  test("no measurement is declared twice", () => {
    const ids = MEASUREMENTS.map((measurement) => measurement.id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test("what a measurement reads is a figure of the same kind in the effective build", () => {
    for (const measurement of MEASUREMENTS) {
      if (measurement.reads === undefined || measurement.forms[0] === "curve") continue;
      for (const row of measurement.reads.includes("{row}") ? (measurement.rows ?? []) : [""]) {
        const path = measurement.reads.replaceAll("{side}", "intake").replaceAll("{of}", "rod-bolt").replaceAll("{row}", row);
        const key = keyOfPath(path);
        expect(key?.type, `${measurement.id} reads ${path}`).toMatchObject({ kind: measurement.kind });
        expect(measurement.qualifiers ?? [], path).toEqual(key?.qualifiers ?? []);
      }
    }
  });
});

describe("steps, phrases, sections and cautions", () => {
  test("every usual step names steps, measurements, kinds and cautions that exist", () => {
    const steps = new Set(USUAL_STEPS.map((step) => step.id));
    const measurements = new Set(MEASUREMENTS.map((measurement) => measurement.id));
    const kinds = new Set(PART_KINDS.map((kind) => kind.id));
    for (const step of USUAL_STEPS) {
      none(step.after, (id) => `${step.id} after ${id}`, (id) => !steps.has(id));
      none([...(step.disturbs ?? []), ...(step.measures ?? [])], (id) => `${step.id}: ${id}`, (id) => !measurements.has(id));
      none(step.fits ?? [], (id) => `${step.id} fits ${id}`, (id) => !kinds.has(id));
      none(step.cautions ?? [], (id) => `${step.id}: ${id}`, (id) => !cautionOf(id));
    }
  });

  test("every usual job lists its steps in an order that honours what comes before what", () => {
    const after = new Map(USUAL_STEPS.map((step) => [step.id, step.after]));
    for (const [job, steps] of Object.entries(USUAL_JOBS)) {
      steps.forEach((id, i) => {
        expect(after.has(id), `${job}: ${id}`).toBe(true);
        for (const earlier of after.get(id) ?? []) {
          const at = (steps as readonly string[]).indexOf(earlier);
          expect(at < i, `${job}: ${earlier} before ${id}`).toBe(true);
        }
      });
    }
  });

  test("every statement word of the grammar has a phrase, and every top word a declaration", () => {
    none(STATEMENT_WORDS, (word) => word, (word) => !Object.hasOwn(PHRASES, word));
    expect([...DECLARATIONS].sort()).toEqual([...TOP_WORDS].sort());
    none(DECLARATIONS, (word) => word, (word) => !Object.hasOwn(PHRASES, word));
  });

  test("every caution that a part carries exists, and no caution stands for nothing", () => {
    for (const kind of PART_KINDS) none(kind.cautions ?? [], (id) => `${kind.id}: ${id}`, (id) => !cautionOf(id));
    none(CAUTIONS, (caution) => caution.id, (caution) => caution.words.length < 40 || !caution.words.endsWith("."));
  });

  test("sections are read in the order of the sheet", () => {
    expect(SECTIONS.map((section) => section.title)).toEqual([
      "Bottom end", "Breathing", "Valve gear", "Lash", "Fasteners", "Fuel and boost", "Order of work", "Running-in", "Runs and pulls", "The tune", "Parts", "Evidence", "Sources", "Cautions",
    ]);
  });
});
