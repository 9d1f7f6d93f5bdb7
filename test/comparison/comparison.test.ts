// What changed between two states of a build, and what follows: causes, consequences, renames, and everything that is no change at all.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import { isEmpty } from "../../server/report/comparison.ts";
import { WREN } from "../report/wren.ts";
import { causesOf, compared, edited, onlyBuild } from "./states.ts";

describe("no change", () => {
  test("the same files compare to nothing", async () => {
    const c = await compared(WREN, WREN);
    expect([isEmpty(c), c.counts.same, c.notes]).toEqual([true, 1, []]);
  });

  test("layout, comments and order of entries are nothing", async () => {
    let after: Record<string, string> = Object.fromEntries(Object.entries(WREN).map(([name, text]) => [name, format(readSource(name, `// a remark\n${text}`))]));
    after = edited(after, "engines/dunlin.tappet", /( *bore:[^\n]*\n)( *stroke:[^\n]*\n)/, "$2$1");
    expect(isEmpty(await compared(WREN, after))).toBe(true);
  });

  test.each([
    ["a length in another unit", "bore: 83.00 mm", "bore: 8.300 cm"],
    ["digits that say the same", "bore: 83.00 mm", "bore: 83.0 mm"],
    ["a thread spelt otherwise", "M8x1.25", "M8×1.25"],
    ["degrees of the cam for degrees of the crank", "duration: 236 deg crank", "duration: 118 deg cam"],
    ["a torque spelt otherwise", "20 ± 2 N·m oiled", "20 +2 -2 Nm oiled"],
  ])("%s is nothing", async (_, from, to) => {
    const name = WREN["engines/dunlin.tappet"]?.includes(from) ? "engines/dunlin.tappet" : "parts/ridgeway.tappet";
    const c = await compared(WREN, edited(WREN, name, from, to));
    expect(c.builds.flatMap((b) => b.causes)).toEqual([]);
    expect(c.builds.flatMap((b) => b.values)).toEqual([]);
  });

  test("a figure in another unit that rounds is told apart, and what it moves is no consequence", async () => {
    const b = await onlyBuild(WREN, edited(WREN, "engines/dunlin.tappet", "rod-length: 138.5 mm", "rod-length: 5.453 in"));
    expect(b.causes).toEqual([]);
    expect(b.respelt.map((r) => r.path)).toEqual(["rod-length"]);
    expect(b.values).toEqual([]);
  });

  test("a declaration that moves to another file is nothing", async () => {
    const { "engines/dunlin.tappet": engine, ...rest } = WREN;
    const moved = { ...rest, "motors/dunlin-18.tappet": engine as string };
    const after = edited(moved, "parts/ridgeway.tappet", "../engines/dunlin.tappet", "../motors/dunlin-18.tappet");
    expect(isEmpty(await compared(WREN, after))).toBe(true);
  });

  test("any figure of the engine written with more zeros is nothing, and with another digit is one cause", async () => {
    const engine = WREN["engines/dunlin.tappet"] as string;
    const places = [...engine.matchAll(/\b\d+\.\d+(?= (?:mm|cc)\b)(?! \w+ (?:cold|crushed|below))/g)].filter((m) => !/±\s*$/.test(engine.slice(0, m.index)) && !/^\s*\S+ ±/.test(engine.slice((m.index ?? 0) + m[0].length)));
    expect(places.length).toBeGreaterThan(5);
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...places), fc.integer({ min: 1, max: 3 }), async (place, zeros) => {
        const put = (text: string) => ({ ...WREN, "engines/dunlin.tappet": engine.slice(0, place.index) + text + engine.slice(place.index + place[0].length) });
        expect(isEmpty(await compared(WREN, put(place[0] + "0".repeat(zeros))))).toBe(true);
        const other = await onlyBuild(WREN, put(String(Number(place[0]) * 1.01)));
        expect(other.causes).toHaveLength(1);
      }),
      { numRuns: 30 },
    );
  });
});

describe("causes and consequences", () => {
  test("one changed figure is one cause, and each value that rests on it names it", async () => {
    const b = await onlyBuild(WREN, edited(WREN, "engines/dunlin.tappet", "stroke: 82.00 mm", "stroke: 84.00 mm"));
    expect(causesOf(b)).toEqual({ stroke: "82.00 mm -> 84.00 mm" });
    expect(b.causes[0]?.from?.place?.range.start.line).toBe(6);
    expect(b.causes[0]?.to?.origin).toBe("asked for by Ashdown Dunlin 1.8, 12-valve");
    const size = b.values.find((v) => v.id === "displacement.total");
    // Four times a quarter of pi, the square of 83.00 mm, and the stroke: by hand.
    expect(size?.fromNumbers?.nominal).toBeCloseTo((Math.PI / 4) * 8.3 ** 2 * 8.2 * 4, 6);
    expect(size?.toNumbers?.nominal).toBeCloseTo((Math.PI / 4) * 8.3 ** 2 * 8.4 * 4, 6);
    expect(b.values.every((v) => v.causes.length === 1 && v.causes[0] === 1)).toBe(true);
  });

  test("two changed figures: each consequence names those it rests on and no other", async () => {
    const after = edited(edited(WREN, "engines/dunlin.tappet", "rod-length: 138.5 mm", "rod-length: 140.0 mm"), "wren.tappet", "intake: 0.15 mm cold", "intake: 0.20 mm cold");
    const b = await onlyBuild(WREN, after);
    expect(causesOf(b)).toEqual({ "rod-length": "138.5 mm -> 140.0 mm", "valve-gear.intake.lash": "0.15 mm cold -> 0.20 mm cold" });
    const by = (id: string) => b.values.find((v) => v.id === id)?.causes.map((n) => b.causes[n - 1]?.path);
    expect(by("rod-ratio")).toEqual(["rod-length"]);
    expect(by("lift.intake.net")).toEqual(["valve-gear.intake.lash"]);
    expect(b.values.some((v) => v.id === "displacement.total")).toBe(false);
  });

  test("a finding that goes names what made it go", async () => {
    const b = await onlyBuild(WREN, edited(WREN, "wren.tappet", "intake: 0.15 mm cold", "intake: 0.20 mm cold"));
    const gone = b.findings.find((f) => f.rule === "lash-tight");
    expect([gone?.change, gone?.to, gone?.causes]).toEqual(["gone", undefined, [1]]);
  });

  test("a part taken off, another put on: what it brought changes too", async () => {
    const after = { ...WREN, "parts/ridgeway.tappet": `${WREN["parts/ridgeway.tappet"]}\npart camshaft ridgeway-284 "Ridgeway 284" for dunlin-18 {\n  intake { duration: 248 deg crank; measured-at: 1.00 mm at valve; lobe-lift: 7.60 mm; centreline: 108 deg crank; lash: 0.20 ± 0.02 mm cold }\n  exhaust { duration: 244 deg crank; measured-at: 1.00 mm at valve; lobe-lift: 7.50 mm; centreline: 112 deg crank; lash: 0.35 ± 0.02 mm cold }\n  needs retainer\n}\n` };
    const b = await onlyBuild(WREN, edited(after, "wren.tappet", "fit ridgeway-272", "fit ridgeway-284"));
    const causes = causesOf(b);
    expect(causes["fit ridgeway-284"]).toBe("Ridgeway 272 -> Ridgeway 284");
    expect(causes["camshaft.intake.lobe-lift"]).toBe("7.10 mm -> 7.60 mm");
    const lift = b.values.find((v) => v.id === "lift.intake.gross");
    expect(lift?.causes.map((n) => b.causes[n - 1]?.path)).toContain("camshaft.intake.lobe-lift");
    // The shaft that needed springs with room to spare is gone, and its condition with it.
    expect(b.causes.find((c) => c.sort === "need")?.to).toBeUndefined();
  });

  test("readings are compared one by one, and what was worked out from them too", async () => {
    const b = await onlyBuild(WREN, edited(WREN, "wren.tappet", "| 0.20 | 0.21 |", "| 0.20 | 0.26 |"));
    expect(b.causes.map((c) => [c.sort, c.path, c.from?.text, c.to?.text])).toEqual([["reading", "lash cold on 2027-03-14, intake a 2", "0.21 mm", "0.26 mm"]]);
    const measured = b.values.filter((v) => v.measured);
    expect(measured.length).toBeGreaterThan(0);
    expect(measured.every((v) => v.at === "intake a, cylinder 2" && v.causes[0] === 1)).toBe(true);
  });

  test("a margin that shrinks is told while the rule is still kept", async () => {
    const kept = { ...WREN, "wren.tappet": (WREN["wren.tappet"] as string).replace('check "cast pistons" piston-speed.mean <= 20 m/s', 'check "cast pistons" piston-speed.mean <= 22 m/s') };
    const b = await onlyBuild(kept, edited(kept, "engines/dunlin.tappet", "redline: 6500 rpm", "redline: 6600 rpm"));
    const margin = b.margins.find((m) => m.id === "piston-speed.mean");
    expect([margin?.lost, margin?.kept, margin?.causes]).toEqual([true, true, [1]]);
    expect(b.findings.filter((f) => f.rule === "check-failed")).toEqual([]);
  });

  test("waivers, checks, records and steps that change are named", async () => {
    let after = edited(WREN, "wren.tappet", "until 2027-09-01", "until 2027-12-01");
    after = edited(after, "wren.tappet", "<= 20 m/s", "<= 19 m/s");
    after = edited(after, "wren.tappet", "    done shaft-in on 2027-03-13\n", "    done shaft-in on 2027-03-13\n    done degree-cam on 2027-03-15\n");
    const b = await onlyBuild(WREN, after);
    expect(b.causes.map((c) => c.sort).sort()).toEqual(["check", "record", "waiver"]);
  });

  test("a value that could not be worked out before says what gives it now", async () => {
    const before = edited(WREN, "engines/dunlin.tappet", "  rod-length: 138.5 mm\n", "");
    const b = await onlyBuild(before, WREN);
    const ratio = b.values.find((v) => v.id === "rod-ratio");
    expect([ratio?.from, ratio?.fromNumbers, ratio?.causes.map((n) => b.causes[n - 1]?.path)]).toEqual(["not computed: it needs rod-length", null, ["rod-length"]]);
  });
});

describe("names", () => {
  test("a part, an engine and a build under new names are followed", async () => {
    let after = edited(WREN, "wren.tappet", "build wren-hill-2", "build wren-hill-two");
    after = edited(edited(after, "wren.tappet", "fit ridgeway-272", "fit long-shaft"), "parts/ridgeway.tappet", "camshaft ridgeway-272", "camshaft long-shaft");
    after = Object.fromEntries(Object.entries(after).map(([name, text]) => [name, text.replaceAll("dunlin-18", "dunlin-eighteen")]));
    const b = await onlyBuild(WREN, after);
    expect(b.renamed).toEqual([
      { sort: "build", from: "wren-hill-2", to: "wren-hill-two" }, { sort: "engine", from: "dunlin-18", to: "dunlin-eighteen" }, { sort: "part", from: "ridgeway-272", to: "long-shaft" },
    ]);
    expect([b.causes, b.values, b.findings]).toEqual([[], [], []]);
  });

  test("a renamed file with a renamed build is followed by the rename", async () => {
    const { "wren.tappet": build, ...rest } = WREN;
    const other = { ...rest, "seasons/third.tappet": (build as string).replace('"parts/', '"../parts/').replace("build wren-hill-2", "build wren-hill-3").replace("intake: 0.15", "intake: 0.20") };
    const b = await onlyBuild(WREN, other, { renames: new Map([["wren.tappet", "seasons/third.tappet"]]) });
    expect([b.fate, b.from, b.to, b.causes.length]).toEqual(["changed", "wren.tappet", "seasons/third.tappet", 1]);
  });

  test("a build that came and one that went are said", async () => {
    const both = { ...WREN, "new.tappet": 'use "engines/dunlin.tappet"\n\nbuild second on dunlin-18 {\n  fuel: petrol\n}\n' };
    const came = await onlyBuild(WREN, both);
    expect([came.name, came.fate, came.to]).toEqual(["second", "added", "new.tappet"]);
    const went = await onlyBuild(both, WREN);
    expect([went.name, went.fate, went.from]).toEqual(["second", "removed", "new.tappet"]);
  });

  test("a part that nobody fits is compared by itself", async () => {
    const part = (lift: string) => ({ "p.tappet": `part camshaft spare for any {\n  source: "a card"\n  intake { lobe-lift: ${lift} }\n}\n` });
    const c = await compared(part("7.10 mm"), part("7.30 mm"));
    expect(c.builds).toEqual([]);
    expect(c.loose.map((l) => [l.sort, l.name, l.fate, l.causes.map((x) => x.path)])).toEqual([["part", "spare", "changed", ["intake.lobe-lift"]]]);
  });

  test("an engine by itself is compared with its values", async () => {
    const { "engines/dunlin.tappet": engine } = WREN;
    const before = { "e.tappet": engine as string };
    const b = await onlyBuild(before, edited(before, "e.tappet", "stroke: 82.00", "stroke: 80.00"));
    expect([b.is, b.name]).toEqual(["engine", "dunlin-18"]);
    expect(b.values.some((v) => v.id === "displacement.total")).toBe(true);
  });
});

test("a state that cannot be read whole is compared as far as it can be, and named", async () => {
  const before = edited(WREN, "wren.tappet", "  fit ridgeway-272\n", "  fit ridgeway-272 ] }{ ((\n");
  const c = await compared(before, WREN);
  expect(c.notes).toEqual([expect.stringContaining("wren.tappet in before has")]);
  expect(c.builds).toHaveLength(1);
});

test("new errors are counted, errors that were there are not", async () => {
  const worse = edited(WREN, "engines/dunlin.tappet", "solid-height: 24.0 mm", "solid-height: 27.4 mm");
  expect((await compared(WREN, worse)).counts.newErrors).toBeGreaterThan(0);
  expect((await compared(worse, WREN)).counts.newErrors).toBe(0);
  expect((await compared(worse, worse)).counts.newErrors).toBe(0);
});
