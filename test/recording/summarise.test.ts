// A recording summed up in one pass, held against the same worked out the slow way from the numbers it was written from; and the same
// whatever the pieces, the delimiter, the decimal mark and the line ends.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { QUESTION, WITH_UNITS, type Row, read, roadTest, runsOf, summaryOf, written } from "./recordings.ts";

const ROWS = roadTest(90);
const TEXT = written(ROWS);

describe("what one pass finds", () => {
  const summary = summaryOf(read(TEXT));
  test("rows, span and columns", () => {
    expect(summary.rows).toBe(ROWS.length);
    expect(summary.clock).toEqual({ from: 0, to: ROWS.at(-1)?.time, breaks: 0 });
    expect(summary.columns.map((c) => [c.key, c.unit, c.read, c.missing])).toEqual([
      ["time", "second", ROWS.length, 0], ["rpm", "revolution-per-minute", ROWS.length, 0], ["throttle", "percent", ROWS.length, 0], ["afr", "air-fuel-ratio", ROWS.length, 0],
      ["manifold", "kilopascal", ROWS.length, 0], ["oil-pressure", "bar", ROWS.length, 0], ["coolant", "degree-celsius", ROWS.length, 0], ["torque", "newton-metre", ROWS.length, 0],
    ]);
    expect(summary.columns.some((c) => c.assumed)).toBe(false);
  });
  test("peaks, with their time and speed", () => {
    const peak = (key: string) => summary.peaks.find((p) => p.key === key);
    const highest = (of: (r: Row) => number) => ROWS.reduce((a, b) => (of(b) > of(a) ? b : a));
    const rpm = highest((r) => r.rpm);
    expect(peak("rpm")?.greatest).toEqual({ value: rpm.rpm, time: rpm.time });
    const water = highest((r) => r.water);
    expect(peak("coolant")?.greatest.value).toBeCloseTo(water.water + 273.15, 9);
    expect(peak("coolant")?.greatest).toMatchObject({ time: water.time, rpm: water.rpm });
    const oil = ROWS.reduce((a, b) => (b.oil < a.oil ? b : a));
    expect(peak("oil-pressure")?.least.value).toBeCloseTo(oil.oil * 1e5, 4);
    expect(peak("oil-pressure")?.least).toMatchObject({ time: oil.time, rpm: oil.rpm });
  });
  test("times over the redline, those of a tenth of a second and more", () => {
    const runs = runsOf(ROWS, (r) => r.rpm > 6500, 0.1);
    expect(runs.length).toBeGreaterThan(1);
    const { redline } = summary.judged;
    if (!redline || redline === "none") throw new Error("no time over the redline");
    expect(redline.count).toBe(runs.length);
    expect(redline.total).toBeCloseTo(runs.reduce((sum, r) => sum + r.duration, 0), 9);
    expect(redline.longest.duration).toBeCloseTo(Math.max(...runs.map((r) => r.duration)), 9);
    expect(redline.worst).toMatchObject({ worst: Math.max(...ROWS.map((r) => r.rpm)), limit: 6500 });
  });
  test("lean under load, as the cylinders were a sensor's delay before, shifts and overrun left out", () => {
    // Loaded at each row, and since when, with falls of speed of 8 % within 0.3 s taken for shifts.
    const since: (number | undefined)[] = [];
    ROWS.forEach((r, i) => {
      const window = ROWS.slice(0, i).filter((p) => r.time - p.time <= 0.3 + 1e-12);
      const shifted = window.length > 0 && r.rpm < (window[0] as Row).rpm * 0.92;
      since[i] = r.throttle < 80 || shifted ? undefined : (since[i - 1] ?? r.time);
    });
    const judged = ROWS.map((r, i) => {
      let at = -1;
      for (let j = 0; j < ROWS.length && (ROWS[j] as Row).time <= r.time - 0.2 + 1e-9; j++) at = j;
      const from = since[at];
      return at >= 0 && from !== undefined && since[i] !== undefined && r.time - 0.2 - from >= 0.3 - 1e-9 ? (ROWS[at] as Row).rpm : undefined;
    });
    const runs = runsOf(ROWS, (r, i) => judged[i] !== undefined && r.afr / 14.7 > (13.2 / 14.7) * (1 + 1e-9), 0.3);
    expect(runs.length).toBeGreaterThan(1);
    const { mixture } = summary.judged;
    if (!mixture || mixture === "none") throw new Error("nothing lean");
    expect(mixture.count).toBe(runs.length);
    expect(mixture.total).toBeCloseTo(runs.reduce((sum, r) => sum + r.duration, 0), 9);
    const leanest = Math.max(...ROWS.filter((_, i) => judged[i] !== undefined).map((r) => r.afr));
    expect(mixture.worst.worst).toBeCloseTo(leanest / 14.7, 12);
    expect(summary.mixture?.leanest.value).toBeCloseTo(leanest / 14.7, 12);
    const row = ROWS.findIndex((r, i) => judged[i] !== undefined && r.afr === leanest);
    expect(mixture.worst.at).toBe(ROWS[row]?.time);
    expect(mixture.worst.rpm).toBe(judged[row]);
    // Overrun is far leaner, and no part of it.
    expect(Math.max(...ROWS.map((r) => r.afr))).toBeGreaterThan(leanest + 1);
  });
  test("oil pressure below the maker's curve", () => {
    const least = (rpm: number) => (rpm < 1000 ? undefined : rpm >= 6000 ? 3 : 1 + (2 * (rpm - 1000)) / 5000);
    const runs = runsOf(ROWS, (r) => { const l = least(r.rpm); return l !== undefined && r.oil < l; }, 0.3);
    expect(runs.length).toBeGreaterThan(0);
    const { oil } = summary.judged;
    if (!oil || oil === "none") throw new Error("never low");
    expect(oil.count).toBe(runs.length);
    expect(oil.total).toBeCloseTo(runs.reduce((sum, r) => sum + r.duration, 0), 9);
    expect(oil.worst.worst / 1e5).toBeLessThan(least(oil.worst.rpm ?? 0) ?? 0);
  });
  test("boost over its limit, from manifold pressure less the barometer", () => {
    const runs = runsOf(ROWS, (r) => r.map * 1000 - 100000 > 0.66e5, 0.3);
    const { boost } = summary.judged;
    expect(boost === "none" ? 0 : boost?.count).toBe(runs.length);
  });
  test("oil pressure by speed in steps, each with its own mean and ends", () => {
    const curve = summary.curves["oil-pressure"];
    for (const step of [10, 16, 24]) {
      const own = ROWS.filter((r) => Math.floor(r.rpm / 250) === step && r.water + 273.15 >= 343.15).map((r) => r.oil);
      expect(curve?.[step]?.count).toBe(own.length);
      expect((curve?.[step]?.mean ?? 0) / 1e5).toBeCloseTo(own.reduce((a, b) => a + b, 0) / own.length, 9);
      expect((curve?.[step]?.least ?? 0) / 1e5).toBeCloseTo(Math.min(...own), 9);
    }
  });
  test("the pulls in it: where each begins and ends, and its greatest torque and power", () => {
    const pulls: Row[][] = [];
    ROWS.forEach((r, i) => {
      if (r.throttle < 80) return;
      if (i > 0 && (ROWS[i - 1] as Row).throttle >= 80) pulls.at(-1)?.push(r);
      else pulls.push([r]);
    });
    const long = pulls.filter((p) => (p.at(-1) as Row).time - (p[0] as Row).time >= 1 && Math.max(...p.map((r) => r.rpm)) - (p[0] as Row).rpm >= 1500);
    expect(summary.pullCount).toBe(long.length);
    const first = pulls.find((p) => Math.abs((p[0] as Row).time - (summary.pulls[0]?.from ?? -1)) < 1) as Row[];
    const kept = summary.pulls[0];
    expect(kept?.toRpm).toBe(Math.max(...first.map((r) => r.rpm)));
    expect(kept?.peaks["torque"]?.value).toBe(Math.max(...first.map((r) => r.torque ?? 0)));
    expect(kept?.peaks["power"]?.value).toBeCloseTo(Math.max(...first.map((r) => ((r.torque ?? 0) * r.rpm * 2 * Math.PI) / 60)), 6);
    // From 3000 to 5500 rpm, along straight lines between rows.
    const when = (rpm: number) => {
      const i = first.findIndex((r) => r.rpm >= rpm);
      const [a, b] = [first[i - 1] as Row, first[i] as Row];
      return a.time + ((b.time - a.time) * (rpm - a.rpm)) / (b.rpm - a.rpm);
    };
    expect((kept?.passed[22] ?? 0) - (kept?.passed[12] ?? 0)).toBeCloseTo(when(5500) - when(3000), 9);
  });
});

describe("the answer does not depend on how the text is written or cut", () => {
  const expected = summaryOf(read(TEXT));
  test("wherever the pieces are cut", () => {
    fc.assert(fc.property(fc.array(fc.nat(TEXT.length), { maxLength: 40 }), (cuts) => { expect(read(TEXT, QUESTION, cuts)).toEqual({ summary: expected }); }), { numRuns: 25 });
  });
  test("character by character", () => {
    const short = written(roadTest(4));
    expect(read(short, QUESTION, Array.from({ length: short.length }, (_, i) => i))).toEqual(read(short));
  });
  test("whatever the delimiter, decimal mark, line ends and quotes", () => {
    fc.assert(fc.property(fc.constantFrom(",", ";", "\t", "|"), fc.constantFrom(".", ","), fc.constantFrom("\n", "\r\n", "\r"), fc.boolean(), fc.boolean(), fc.nat(20), (delimiter, decimal, newline, mark, units, lines) => {
      const text = written(ROWS, {
        delimiter: delimiter as ",", decimal: decimal as ".", newline, preamble: Array.from({ length: lines % 5 }, (_, i) => `Recorder 7 line ${i}`),
        ...(units && { head: WITH_UNITS.map((h) => h.replace(/ \(.*/, "")), units: WITH_UNITS.map((h) => /\((.*)\)/.exec(h)?.[1] ?? "") }),
      });
      const { delimiter: _, decimal: __, preamble, unitRow, headings, columns, ...rest } = summaryOf(read((mark ? "\ufeff" : "") + text, QUESTION, [lines * 997]));
      const { delimiter: _d, decimal: _m, preamble: _p, unitRow: _u, headings: _h, columns: own, ...first } = expected;
      expect(preamble).toBe(lines % 5);
      expect(unitRow).toBe(units);
      expect(headings).toHaveLength(8);
      expect(columns.map(({ heading: _heading, ...c }) => c)).toEqual(own.map(({ heading: _heading, ...c }) => c));
      expect(rest).toEqual(first);
    }), { numRuns: 40 });
  });
  test("with columns nobody asked for among them, and in another order", () => {
    const [head, ...lines] = TEXT.trimEnd().split("\n");
    const turned = [head, ...lines].map((line) => ["x", ...(line as string).split(",").reverse(), "y"].join(",")).join("\n");
    const { headings: _, columns: __, ...rest } = summaryOf(read(turned));
    const { headings: _h, columns: ___, ...first } = expected;
    expect(rest).toEqual(first);
  });
});

describe("rows that are not as they should be", () => {
  const lines = TEXT.trimEnd().split("\n");
  const change = (i: number, to: (line: string) => string) => lines.map((l, n) => (n === i ? to(l) : l)).join("\n");
  test("a short row in the middle is counted with its line; a last row cut short is not", () => {
    expect(summaryOf(read(change(40, (l) => l.split(",").slice(0, 3).join(",")))).doubts).toEqual([{ sort: "ragged", count: 1, line: 41 }]);
    expect(summaryOf(read(change(lines.length - 1, (l) => l.slice(0, 12)))).doubts).toEqual([]);
  });
  test("cells without a reading are missing, not wrong", () => {
    const summary = summaryOf(read([lines[0], ...lines.slice(1).map((l, i) => (i % 3 === 0 ? l : l.replace(/^((?:[^,]*,){5})[^,]*/, i % 3 === 1 ? "$1" : "$1NaN")))].join("\n")));
    expect(summary.doubts).toEqual([]);
    const oil = summary.columns.find((c) => c.key === "oil-pressure");
    expect(oil?.read).toBe(Math.ceil(ROWS.length / 3));
    expect((oil?.read ?? 0) + (oil?.missing ?? 0)).toBe(ROWS.length);
  });
  test("a word where a figure should be is counted and shown", () => {
    expect(summaryOf(read(change(7, (l) => l.replace(/^([^,]*,)[^,]*/, "$1err")))).doubts).toEqual([{ sort: "unreadable", count: 1, line: 8, text: "err" }]);
  });
  test("time going backwards is counted, and nothing lasts across it", () => {
    const twice = [...ROWS.slice(0, 300), ...ROWS];
    const summary = summaryOf(read(written(twice)));
    expect(summary.doubts).toEqual([{ sort: "backwards", count: 1, line: 302 }]);
    expect(summary.clock?.breaks).toBe(1);
  });
  test("headings repeated in the middle begin a new recording", () => {
    const again = [...lines, ...lines].join("\n");
    const summary = summaryOf(read(again));
    expect(summary.doubts).toEqual([]);
    expect(summary.rows).toBe(2 * ROWS.length);
    const one = summaryOf(read(TEXT));
    expect(summary.pullCount).toBe(2 * one.pullCount);
  });
  test("and so with a row of units under them", () => {
    const plain = written(ROWS, { head: WITH_UNITS.map((h) => h.replace(/ \(.*/, "")), units: WITH_UNITS.map((h) => /\((.*)\)/.exec(h)?.[1] ?? "") });
    const summary = summaryOf(read(`${plain}\n${plain}`));
    expect(summary.doubts).toEqual([]);
    expect(summary.rows).toBe(2 * ROWS.length);
  });
  test("a gap in time ends what lasted", () => {
    const over = (time: number): Row => ({ ...(ROWS[0] as Row), time, rpm: 6600, throttle: 0 });
    const rows = [0, 0.05, 0.1, 0.15, 30, 30.05, 30.1, 30.15, 30.2].map(over);
    const { redline } = summaryOf(read(written(rows))).judged;
    expect(redline).toMatchObject({ count: 2, longest: { from: 30 } });
  });
  test("one row alone over the redline is a spike", () => {
    const rows = ROWS.slice(0, 60).map((r, i) => (i === 30 ? { ...r, rpm: 9000 } : r));
    expect(summaryOf(read(written(rows))).judged.redline).toBe("none");
  });
  test("a clock past midnight goes on", () => {
    const clock = (s: number) => `${String(Math.floor(s / 3600) % 24).padStart(2, "0")}:${String(Math.floor(s / 60) % 60).padStart(2, "0")}:${(s % 60).toFixed(2).padStart(5, "0")}`;
    const text = ["Time,Engine Speed", ...Array.from({ length: 400 }, (_, i) => `${clock(86390 + i / 20)},3000`)].join("\n");
    const summary = summaryOf(read(text));
    expect(summary.doubts).toEqual([]);
    expect((summary.clock?.to ?? 0) - (summary.clock?.from ?? 0)).toBeCloseTo(399 / 20, 6);
  });
});

describe("units", () => {
  const columns = (text: string, question = QUESTION) => summaryOf(read(text, question));
  const two = (heading: string, cell: string) => `Time (s),Engine Speed,${heading}\n0,3000,${cell}\n0.1,3000,${cell}\n`;
  const asking = (key: string, kind: "pressure" | "temperature" | "mixture", heading: string) => ({ ...QUESTION, columns: [...QUESTION.columns.slice(0, 2), { key, kind, heading }] });
  test("stand in brackets, as a last word, or in the builder's own heading", () => {
    for (const [file, own] of [["Oil [psi]", "Oil"], ["Oil_psi", "Oil_psi"], ["Oil psi", "Oil psi"], ["Oil", "Oil (psi)"], ["oil", "OIL (psi)"]] as const)
      expect(columns(two(file, "50"), asking("oil-pressure", "pressure", own)).columns[2]).toMatchObject({ unit: "psi" });
  });
  test("pressure without a unit is not read, and the loss says so", () => {
    expect(columns(two("Oil", "50"), asking("oil-pressure", "pressure", "Oil")).lost).toEqual([{ key: "oil-pressure", heading: "Oil", why: "no-unit", found: ["Oil"] }]);
  });
  test("a unit of another kind, and two that disagree, are not read", () => {
    expect(columns(two("Oil (°C)", "50"), asking("oil-pressure", "pressure", "Oil")).lost).toMatchObject([{ why: "unit" }]);
    expect(columns(two("Oil (psi)", "50"), asking("oil-pressure", "pressure", "Oil (bar)")).lost).toMatchObject([{ why: "disagrees", found: ["Oil (psi)"] }]);
    expect(columns(two("Manifold (kPa abs)", "150"), asking("boost", "pressure", "Manifold")).lost).toMatchObject([{ why: "unit" }]);
  });
  test("time without a unit is taken as seconds, and said", () => {
    expect(columns("Time,Engine Speed\n0,3000\n1,3000\n").columns[0]).toMatchObject({ unit: "second", assumed: true });
    expect(columns("Time (ms),Engine Speed\n0,3000\n1000,3000\n").clock).toMatchObject({ to: 1 });
  });
  test("a heading that is not there names the ones most like it", () => {
    expect(columns("Time (s),Engine Sped\n0,3000\n1,3000\n").lost[0]).toMatchObject({ key: "rpm", why: "absent", found: ["Engine Sped"] });
  });
});

describe("refused, with what is wrong", () => {
  const problem = (text: string) => { const outcome = read(text); return "problem" in outcome ? outcome.problem : outcome; };
  test("no table", () => {
    expect(problem("")).toEqual({ sort: "empty" });
    expect(problem("<html><body>no such page</body></html>")).toMatchObject({ sort: "not-a-table" });
    expect(problem("just words\nand more words\n")).toMatchObject({ sort: "not-a-table", text: "just words" });
  });
  test("other columns than those asked for", () => {
    expect(problem("t,n,p\n0,3000,1\n1,3000,2\n")).toEqual({ sort: "no-columns", headings: ["t", "n", "p"] });
  });
  test("headings and no rows", () => {
    expect(problem(`${WITH_UNITS.join(",")}\n`)).toMatchObject({ sort: "no-rows" });
  });
  test("thousands marks, and two decimal marks", () => {
    expect(problem('Time (s),Engine Speed\n0.1,"3,500"\n0.2,"3,510"\n')).toEqual({ sort: "marks", line: 2, text: "3,500" });
    expect(problem("Time (s);Engine Speed\n0,1;3.500\n0,2;3.510\n")).toMatchObject({ sort: "marks" });
    expect(problem("Time (s);Engine Speed\n1;3,500\n2;3,510\n")).toEqual({ sort: "ambiguous", line: 2, text: "3,500" });
    expect(problem("Time (s);Engine Speed\n0.5;3 500\n1.5;3 510\n")).toMatchObject({ sort: "marks", text: "3 500" });
  });
  test("what the builder says of the decimal mark settles it", () => {
    const outcome = read("Time (s);Engine Speed\n1;3,500\n2;3,510\n", { ...QUESTION, decimal: "," });
    expect(summaryOf(outcome).peaks.find((p) => p.key === "rpm")?.greatest.value).toBe(3.51);
  });
  test("a quote that is never closed, before it fills the memory", () => {
    expect(problem(`${TEXT.slice(0, 5000)}\n"${"1,2,3\n".repeat(400000)}`)).toMatchObject({ sort: "quote" });
  });
});

describe("whatever the text", () => {
  const bit = fc.constantFrom("Time (s)", "Engine Speed", "Throttle", "Wideband", ",", ",", ";", "\t", "|", "\n", "\n", "\r\n", "\r", '"', '""', "0", "1", "3000", "12.5", "12,5", "3,500", "-", "NaN", "1:02:03.5", "(s)", "rpm", "\ufeff", "\u2212", "#", " ", "e", "1e3", "0x10", "Infinity", "9".repeat(400), "é");
  test("nothing is thrown, and the answer does not depend on where it was cut", () => {
    fc.assert(fc.property(fc.array(bit, { maxLength: 120 }), fc.array(fc.nat(400), { maxLength: 6 }), (bits, cuts) => {
      const text = bits.join("");
      expect(read(text, QUESTION, cuts)).toEqual(read(text));
    }), { numRuns: 400 });
  });
  test("every figure of a summary is a number", () => {
    fc.assert(fc.property(fc.array(bit, { maxLength: 120 }), (bits) => {
      const outcome = read(`Time (s),Engine Speed\n0,3000\n1,3100\n${bits.join("")}`);
      if ("summary" in outcome) expect(JSON.stringify(outcome.summary, (_, x: unknown) => (typeof x === "number" && !Number.isFinite(x) ? "no number" : x))).not.toContain("no number");
    }), { numRuns: 300 });
  });
});
