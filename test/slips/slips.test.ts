// What slips of the pen are caught, and that clean files are left in peace. The rates are printed by `npm run slips`, not asserted: no span is
// tightened to reach a rate.
import { expect, test } from "vitest";
import { measureSlips } from "./measure.ts";

test("clean samples raise nothing at warning or above, and most slips of a figure are questioned", () => {
  const { cleanFindings, slips } = measureSlips();
  expect(cleanFindings).toEqual([]);
  const shifts = slips.filter((s) => s.slip !== "torque unit");
  expect(shifts.length).toBeGreaterThan(1000);
  console.log(`slips caught: ${shifts.filter((s) => s.raised).length} of ${shifts.length}; raised on clean files: ${cleanFindings.length}`);
  // Every way of slipping is caught somewhere: a broken rule shows here, a rate does not.
  for (const id of new Set(shifts.map((s) => s.slip))) expect(shifts.some((s) => s.slip === id && s.raised)).toBe(true);
}, 600_000);
