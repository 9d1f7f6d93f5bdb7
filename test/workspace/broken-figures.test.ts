/** Figures that cannot be, put into the clean samples one by one: said where they stand, once, and nothing follows from them. */
import { expect, test } from "vitest";
import { type Broken, breakAll } from "./breaks.ts";

// Seven has no factor in common with the three ways of breaking: every way meets every seventh figure.
const all = breakAll((n) => n % 7 === 0);
const shown = (b: Broken) => `${b.file}:${b.line} ${b.key} ${b.break} [${b.here.map((f) => f.rule).join(", ")} | ${b.elsewhere.map((f) => `${f.rule}: ${f.message}`).join("; ")}] ${b.text}`;

/** Keys that truly may be nothing, besides those whose span in the schema says so: a face that lies level, a gap that is measured, an event at a dead centre, a span whose low end is nothing. */
const MAY_BE_NOTHING = /altitude|boost|advance|timing|temperature|^cold$|distance|skim|deck|-at$|\.set$|flatness|lash|bank-angle|dish|dome|preload|measured-at|endplay|side-clearance|wall-clearance|clearance$|gap$|angle|opens|closes|drop|float-height|pocket-depth|range$/;
/** Keys that may be less than nothing, besides those whose span in the schema says so: below the sea, below freezing, on the other side of a dead centre. */
const MAY_BE_LESS = /altitude|advance|timing|temperature|^cold$|max-boost|-at$|opens|closes/;
/** The first end of a range may be nothing: "up to". */
const isRange = (b: Broken) => /^.{30}\S* *(\S+ )?\.\./.test(b.text);

test("there is something to break", () => {
  expect(all.length).toBeGreaterThan(150);
});

test("leave no number on any sheet or in any message that is none", () => {
  expect(all.filter((b) => b.noNumbers.length > 0).map((b) => `${shown(b)} ${b.noNumbers[0]}`)).toEqual([]);
});

test("are found on their own line, unless the key may hold such a figure", () => {
  const silent = all.filter((b) => b.here.length === 0);
  const unexplained = silent.filter((b) => !(b.break === "0" && ((b.least ?? 1) <= 0 || MAY_BE_NOTHING.test(b.key) || isRange(b))) && !(b.break === "negative" && ((b.least ?? 0) < 0 || MAY_BE_LESS.test(b.key))));
  expect(unexplained.map(shown)).toEqual([]);
});

test("that no engine can have are told once and judged by nothing else", () => {
  expect(all.filter((b) => b.here.some((f) => f.rule === "impossible-figure") && new Set(b.here.map((f) => `${f.rule} ${f.at.span.start}`)).size > 1).map(shown)).toEqual([]);
});

test("bring no chain of findings after them: one at most, about a record or a need that they leave open", () => {
  expect(all.filter((b) => b.here.length > 0 && b.elsewhere.length > 1).map(shown)).toEqual([]);
  // A possible figure that disagrees with others is told of where they meet.
  expect(all.filter((b) => b.elsewhere.length > 3).map(shown)).toEqual([]);
});
