// What a tune rests on: the same for every way to write the same engine, another as soon as anything of it changes, and untouched by all else.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import type { EffectiveBuild, Slot } from "../../server/model/effective.ts";
import { printOfText } from "../../server/model/print.ts";
import { mapInterval } from "../../server/quantity/interval.ts";
import { recordFix, REDONE } from "../../server/rules/tune-record.ts";
import { allEffectivePaths, keyOfPath } from "../../server/schema/lookup.ts";
import { type Sheet, evaluate } from "../../server/sheet/evaluate.ts";
import type { Formula, Input } from "../../server/sheet/formula.ts";
import { FORMULAS } from "../../server/sheet/formulas/index.ts";
import { SCHEME, fingerprintOf, stateOf, tunesOf } from "../../server/sheet/tune.ts";
import { tuneFigures } from "../../server/sheet/tune-figures.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { MAIN, analyseText, applyEdits } from "../support/project.ts";
import { sampleTexts } from "../workspace/corpus.ts";

const AS_OF = "2028-01-15";

function buildIn(text: string, analysis = analyseText(text, AS_OF)) {
  const subject = analysis.fileResult(MAIN)?.subjects.find((s) => s.build.subject.sort === "build");
  if (!subject) throw new Error("the text has no build");
  return subject;
}

function printIn(text: string): string {
  const { build, sheet } = buildIn(text);
  return fingerprintOf(tuneFigures(build, sheet));
}

/** Figures of an engine that a tune rests on, each in spellings of the same amount, and in one of another. */
const RESTS: readonly { readonly key: string; readonly spelt: readonly string[]; readonly other: string; readonly in?: string }[] = [
  { key: "bore", spelt: ["84.00 mm", "8.4 cm", "0.084 m", "84000 µm", "84 mm", "84.00 ± 0.02 mm", "83.99 .. 84.01 mm"], other: "84.50 mm" },
  { key: "stroke", spelt: ["90.00 mm", "9.000 cm", "90.0 mm", "45 mm + 45 mm"], other: "90.10 mm" },
  { key: "cylinders", spelt: ["4"], other: "6" },
  { key: "redline", spelt: ["6200 rpm", "6200.0 rpm"], other: "6300 rpm" },
  { key: "chamber", spelt: ["44.6 cc", "44.60 cm³", "0.0446 L"], other: "44.7 cc", in: "combustion" },
  { key: "piston-dish", spelt: ["3.0 cc", "3.000 cm³"], other: "3.1 cc", in: "combustion" },
  { key: "gasket-bore", spelt: ["85.0 mm", "8.50 cm"], other: "86.0 mm", in: "combustion" },
  { key: "gasket-thickness", spelt: ["0.80 mm crushed", "800 µm crushed", ".08 cm crushed"], other: "0.81 mm crushed", in: "combustion" },
  { key: "deck", spelt: ["0.15 mm below", "150 µm below"], other: "0.15 mm above", in: "combustion" },
];
/** Figures that no tune rests on, in two amounts. */
const REST_NOT: readonly { readonly key: string; readonly spelt: readonly [string, string]; readonly in?: string }[] = [
  { key: "rod-length", spelt: ["138.5 mm", "140.0 mm"] },
  { key: "head-material", spelt: ["aluminium", "cast-iron"], in: "combustion" },
  { key: "oil-capacity", spelt: ["4.2 L", "4.5 L"], in: "fluids" },
  { key: "plug-gap", spelt: ["0.80 mm", "0.90 mm"], in: "ignition" },
];

/** An engine and a build on it, from entries in this order, with a comment after some of them. */
function engineText(entries: readonly { readonly key: string; readonly text: string; readonly in?: string }[], comments: readonly boolean[] = []): string {
  const lines = entries.map((e, i) => {
    const comment = comments[i] === true ? "  // as measured at the bench, twice" : "";
    return e.in === undefined ? `  ${e.key}: ${e.text}${comment}` : `  ${e.in} { ${e.key}: ${e.text} }${comment}`;
  });
  return `engine dunlin-20 {\n${lines.join("\n")}\n}\nbuild wren-hill-2 on dunlin-20 {\n  octane: 98 RON\n  tune { date: 2027-04-05 }\n}\n`;
}

const plainEntries = [...RESTS.map((r) => ({ ...r, text: r.spelt[0] as string })), ...REST_NOT.map((r) => ({ ...r, text: r.spelt[0] }))];
const PLAIN = printIn(engineText(plainEntries));

describe("a fingerprint", () => {
  test("is the same for every spelling, order, comment and layout of the same engine", () => {
    const entries = fc.tuple(
      fc.tuple(...RESTS.map((r) => fc.constantFrom(...r.spelt).map((text) => ({ key: r.key, text, ...(r.in !== undefined && { in: r.in }) })))),
      fc.tuple(...REST_NOT.map((r) => fc.constantFrom(...r.spelt).map((text) => ({ key: r.key, text, ...(r.in !== undefined && { in: r.in }) })))),
    ).chain(([a, b]) => fc.shuffledSubarray([...a, ...b], { minLength: a.length + b.length }));
    fc.assert(
      fc.property(entries, fc.array(fc.boolean(), { maxLength: 20 }), fc.boolean(), (list, comments, formatted) => {
        const text = engineText(list, comments);
        expect(printIn(formatted ? format(readSource("main.tappet", text)) : text)).toBe(PLAIN);
      }),
      { numRuns: 60 },
    );
  });

  test.each(RESTS.map((r) => [r.key, r] as const))("is another once %s changes, is gone or is new, and says so", (key, changed) => {
    const recorded = recordedText(engineText(plainEntries));
    const edited = recorded.text.replace(`${key}: ${changed.spelt[0]}`, `${key}: ${changed.other}`);
    expect(edited).not.toBe(recorded.text);
    const state = lookAt(edited);
    expect(state.is === "stale" ? state.changes.map((c) => c.path) : state.is).toEqual([changed.in === undefined ? key : `${changed.in}.${key}`]);
    if (state.is === "stale") expect(state.changes[0]?.was).not.toBe(state.changes[0]?.is);
    if (key === "cylinders") return;
    const gone = lookAt(recorded.text.replace(new RegExp(`(${key}: [^\\n}]*)`), (_, entry: string) => (changed.in === undefined ? `remark: "none"` : entry.replace(/.*/, ""))));
    expect(gone.is === "stale" ? gone.changes : gone.is).toContainEqual(expect.objectContaining({ path: changed.in === undefined ? key : `${changed.in}.${key}`, was: expect.any(String) }));
  });

  test.each(REST_NOT.map((r) => [r.key, r] as const))("is the same whatever %s is", (_, other) => {
    expect(printIn(engineText(plainEntries.map((e) => (e.key === other.key ? { ...e, text: other.spelt[1] } : e))))).toBe(PLAIN);
  });

  test("hears the words that say of what a figure is", () => {
    const shaft = (at: string) => `engine e { cylinders: 4; camshaft { intake { duration: 236 deg crank; measured-at: ${at} } } }\nbuild b on e { octane: 98 RON }`;
    expect(printIn(shaft("1.00 mm at valve"))).not.toBe(printIn(shaft("1.00 mm at lobe")));
    const fuel = (octane: string) => `engine e { cylinders: 4 }\nbuild b on e { octane: ${octane} }`;
    expect(printIn(fuel("98 RON"))).not.toBe(printIn(fuel("98 AKI")));
    const duration = (d: string) => `engine e { cylinders: 4; camshaft { intake { duration: ${d} } } }\nbuild b on e { octane: 98 RON }`;
    expect(printIn(duration("236 deg crank"))).toBe(printIn(duration("118 deg cam")));
  });

  test("is of the size that an oversize comes to, however it is given", () => {
    const over = (bore: string) => `engine e { cylinders: 4; bore: 84.00 mm; stroke: 90.00 mm }\nbuild b on e { ${bore} }`;
    expect(printIn(over("bore: +0.50 mm over"))).toBe(printIn(over("bore: 84.50 mm")));
    const { text } = recordedText(`${over("bore: +0.50 mm over; tune { date: 2027-04-05 }")}`);
    expect(text).toMatch(/\| bore +\| 84\.50 mm +\|/);
    expect(lookAt(text).is).toBe("current");
  });

  test("names a part that asks for a tune and brings no figure of its own; one that brings some may be called anything", () => {
    const fitted = (name: string, body: string, more = "") => `engine e { cylinders: 4 }\npart carburettor ${name} "${name}" for e { source: "box"; ${body} }\nbuild b on e { fit ${name}; ${more} }`;
    expect(printIn(fitted("coldbeck-36", ""))).not.toBe(printIn(fitted("coldbeck-40", "")));
    expect(printIn(fitted("coldbeck-36", "choke: 32 mm"))).toBe(printIn(fitted("coldbeck-36-b", "choke: 32 mm")));
    expect(printIn(fitted("coldbeck-36", "choke: 32 mm"))).not.toBe(printIn(fitted("coldbeck-36", "choke: 34 mm")));
  });

  test("takes a lobe's shape in", () => {
    const lobe = (lift: string) => `engine e { cylinders: 4; valve-gear { intake { rocker-ratio: 1.5 } } }
part camshaft c "C" for e { source: "bench"; intake { lobe { | angle (deg crank) | lift (mm at lobe) |\n| -90 | 0 |\n| -60 | 1.5 |\n| -30 | 5.0 |\n| 0 | ${lift} |\n| 30 | 5.0 |\n| 60 | 1.5 |\n| 90 | 0 |\n } } }
build b on e { fit c; tune { date: 2027-04-05 } }`;
    expect(printIn(lobe("7.0"))).toBe(printIn(lobe("7.00")));
    expect(printIn(lobe("7.0"))).not.toBe(printIn(lobe("7.1")));
    expect(lookAt(recordedText(lobe("7.0")).text).is).toBe("current");
  });
});

describe("a record", () => {
  test("in another order is the same record; with a figure or the scheme changed by hand it is doubted", () => {
    const { text } = recordedText(engineText(plainEntries));
    const rows = text.split("\n").filter((line) => line.trim().startsWith("| "));
    const [, first = "", second = ""] = rows;
    expect(lookAt(text.replace(`${first}\n${second}`, `${second}\n${first}`)).is).toBe("current");
    expect(lookAt(text.replace(first, first.replace(/\d/, "7")))).toEqual({ is: "doubtful", why: "edited" });
    expect(lookAt(text.replace(`${first}\n`, ""))).toEqual({ is: "doubtful", why: "edited" });
    expect(lookAt(text.replace("scheme: 1", "scheme: 2"))).toEqual({ is: "doubtful", why: "scheme", scheme: 2 });
    expect(lookAt(text.replace("scheme: 1\n", "\n"))).toEqual({ is: "doubtful", why: "scheme" });
  });

  test("of an older scheme is held against what it recorded, and nothing else", () => {
    const { text } = recordedText(engineText(plainEntries));
    const { build, sheet } = buildIn(text);
    const record = build.subject.records.find((r) => r.word === "tune");
    if (!record) throw new Error("no tune");
    const now = tuneFigures(build, sheet);
    expect(stateOf(record, () => [...now, { path: "looked-at.since", text: "1", canonical: "number 1" }], SCHEME + 1)).toEqual({ is: "current" });
    expect(stateOf(record, () => [...now, { path: "looked-at.since", text: "1", canonical: "number 1" }]).is).toBe("stale");
    const other = now.map((f) => (f.path === "bore" ? { ...f, text: "85 mm", canonical: "length 0.085" } : f));
    expect(stateOf(record, () => other, SCHEME + 1)).toMatchObject({ is: "stale", changes: [{ path: "bore", was: "84.00 mm", is: "85 mm" }] });
  });
});

const texts = sampleTexts();
const project = await loadProject(memoryHost(texts), Object.keys(texts));
const samples = Object.keys(texts).flatMap((uri) => (analyse(project, AS_OF).fileResult(uri)?.subjects ?? []).filter((s) => s.build.subject.sort === "build").map((s) => [s.build.subject.name?.text ?? uri, s] as const));

describe.each(samples)("the sample %s", (_, subject) => {
  const { build, sheet } = subject;

  test("can be recorded, and is then what was recorded", () => {
    const look = tunesOf(sheet, new Map()).find((l) => l.latest);
    if (!look) return;
    const fix = recordFix(build, sheet, look, REDONE);
    expect(fix).toBeDefined();
    const { tree } = build.subject;
    const text = [...(fix?.edits ?? [])].sort((a, b) => b.span.start - a.span.start).reduce((now, e) => now.slice(0, e.span.start) + e.text + now.slice(e.span.end), tree.text);
    const [again] = readSource("x", text).declarations;
    expect(again?.tree.problems).toEqual([]);
    const found = analyseText(text).fileResult(MAIN)?.subjects[0]?.build.subject.records.findLast((r) => r.word === "tune");
    expect(found && stateOf(found, () => tuneFigures(build, sheet))).toEqual({ is: "current" });
  });

  // Told by the values themselves, not by the list of figures: every figure of the sample is moved by a hundredth.
  test("has no figure that moves a value of the tune's unheeded, and none recorded that was made up", () => {
    const values = (s: Sheet) => s.values.filter((v) => v.formula.tune).map((v) => `${v.id} ${v.interval?.nominal.toPrecision(9)}`).join("\n");
    const [before, print] = [values(sheet), fingerprintOf(tuneFigures(build, sheet))];
    const recorded = new Set(tuneFigures(build, sheet).map((f) => f.path));
    const unheeded: string[] = [];
    const overheeded: string[] = [];
    let moved = 0;
    for (const [path, slot] of build.slots) {
      const other = movedBuild(build, path, slot);
      if (!other) continue;
      const then = evaluate(other, FORMULAS, (p) => p);
      const same = values(then) === before;
      const samePrint = fingerprintOf(tuneFigures(other, then)) === print;
      if (!same) moved++;
      if (!same && samePrint) unheeded.push(path);
      if (!samePrint && !recorded.has(path)) overheeded.push(path);
    }
    expect({ unheeded, overheeded }).toEqual({ unheeded: [], overheeded: [] });
    expect(moved).toBeGreaterThan(5);
  });
});

/** The build with the figure that counts at a path made a hundredth larger. */
function movedBuild(build: EffectiveBuild, path: string, slot: Slot): EffectiveBuild | undefined {
  const last = slot.chain[slot.chain.length - 1];
  if (slot.chain.length <= slot.from || last?.fact.value.is !== "quantity") return undefined;
  const { value } = last.fact;
  const quantity = { ...value.quantity, interval: mapInterval(value.quantity.interval, (x) => x * 1.01) };
  const changed = { ...last, fact: { ...last.fact, value: { ...value, quantity } } };
  const { subject, engine, parts, cards, said, tables, fasteners, measured, shop } = build;
  const slots = new Map(build.slots).set(path, { ...slot, chain: [...slot.chain.slice(0, -1), changed] });
  return { subject, ...(engine && { engine }), parts, cards, slots, said, tables, fasteners, measured, ...(shop && { shop }) };
}

describe("the set of figures", () => {
  // Fingerprints that people have written must go on being read: once a scheme is out, another set of paths is another scheme, and this line gets
  // both. Until then the new figures are enough.
  test("belongs to the scheme: whoever changes what a tune rests on gives it a new number", () => {
    const reached = new Set<string>();
    const seen = new Set<Formula>();
    const visit = (input: Input<unknown>): void => {
      if (input.reads === "either") input.of.forEach(visit);
      else if (input.reads === "value") FORMULAS.filter((f) => idMatches(f.id, input.id)).forEach(walk);
      else for (const path of input.reads === "table" || input.reads === "thing" ? input.needs : input.paths) reached.add(path);
    };
    const walk = (formula: Formula): void => {
      if (seen.has(formula)) return;
      seen.add(formula);
      Object.values(formula.inputs).forEach(visit);
    };
    FORMULAS.filter((f) => f.tune).forEach(walk);
    for (const [path, key] of allEffectivePaths()) if (key.tune) reached.add(path);
    expect(reached.has("bore") && reached.has("camshaft.{each}.duration") && reached.has("octane") && reached.has("boost.target")).toBe(true);
    expect(reached.has("rod-length") || reached.has("valve-gear.{each}.lash")).toBe(false);
    expect([SCHEME, reached.size, printOfText([...reached].sort().join("\n"))]).toEqual([1, 65, "6cca2b144841"]);
  });

  test("holds only paths that the schema knows", () => {
    for (const [, { build, sheet }] of samples)
      for (const { path, text } of tuneFigures(build, sheet)) expect(text.startsWith('"') || keyOfPath(path.replace(/^engine\./, "")) !== undefined, path).toBe(true);
  });
});

function idMatches(id: string, wanted: string): boolean {
  const pattern = (text: string) => new RegExp(`^${text.replace(/[.*+?^$()|[\]\\]/g, "\\$&").replaceAll("{each}", "[^.]+")}$`);
  return id === wanted || pattern(id).test(wanted) || pattern(wanted).test(id);
}

/** The text with its tune recorded for the build as it stands. */
function recordedText(text: string): { readonly text: string } {
  const analysis = analyseText(text, AS_OF);
  const { build, sheet, data } = buildIn(text, analysis);
  const look = tunesOf(sheet, data).find((l) => l.latest);
  const fix = look && recordFix(build, sheet, look, REDONE);
  if (!fix) throw new Error("nothing to record");
  return { text: applyEdits(text, fix.edits, analysis) };
}

function lookAt(text: string) {
  const { sheet, data } = buildIn(text);
  const look = tunesOf(sheet, data).find((l) => l.latest);
  if (!look) throw new Error("no tune");
  return look.state;
}
