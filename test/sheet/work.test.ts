// The order of work as it is read: windows of several plans, what records show, order, and plans that are no plans.
import { describe, expect, test } from "vitest";
import { plansOf, stateOf } from "../../server/sheet/work.ts";
import { resultOf, shown } from "../support/project.ts";

const ENGINE = `engine dunlin-18 { source: "workshop manual"; cylinders: 4; valve-gear { layout: sohc; adjuster: screw } }\n`;
const plans = (body: string) => {
  const subject = resultOf(`${ENGINE}build wren on dunlin-18 {\n${body}\n}\n`).subjects.find((s) => s.build.subject.name?.text === "wren");
  if (!subject) throw new Error("no build");
  return plansOf(subject.build);
};
const states = (body: string) => plans(body).map((plan) => Object.fromEntries(plan.steps.map((s) => [s.name, `${stateOf(plan, s)}${s.done ? ` ${s.done.date}` : s.shown ? ` shown ${s.shown.date}` : ""}`])));

describe("plans", () => {
  test("of one build share its records by the days on which each began", () => {
    expect(states(`
      plan first { step looked-at; step first-start after looked-at; done looked-at on 2026-03-01 }
      plan second { step looked-at; step first-start after looked-at; done looked-at on 2027-03-01 }
      run a on 2026-03-05 { time: 20 min }
      run b on 2027-03-05 { time: 20 min }
    `)).toEqual([{ "looked-at": "done 2026-03-01", "first-start": "done shown 2026-03-05" }, { "looked-at": "done 2027-03-01", "first-start": "done shown 2027-03-05" }]);
  });

  test("take ticks that stand by themselves to the plan above them", () => {
    expect(states(`
      plan first { step one }
      done one on 2026-03-01
      plan second { step one }
      done one on 2027-03-01
    `)).toEqual([{ one: "done 2026-03-01" }, { one: "done 2027-03-01" }]);
  });

  test("take a reading for its step only where what comes before was done by then", () => {
    const body = (day: string) => `plan { step one; step two after one { measure: flatness }; done one on 2027-03-10 }\n measured flatness on ${day} { reading: 0.02 mm }`;
    expect(states(body("2027-03-09"))).toEqual([{ one: "done 2027-03-10", two: "next" }]);
    expect(states(body("2027-03-10"))).toEqual([{ one: "done 2027-03-10", two: "done shown 2027-03-10" }]);
  });

  test("put a builder's own steps where they are wanted, and keep the usual order around them", () => {
    const [plan] = plans("plan { job: camshaft-change; step oiled after inspect before shaft-in }");
    const names = plan?.steps.map((s) => s.name) ?? [];
    expect(names.slice(names.indexOf("inspect"), names.indexOf("inspect") + 3)).toEqual(["inspect", "oiled", "shaft-in"]);
    expect(plan?.byName.get("shaft-in")?.after).toContain("oiled");
  });

  test("keep the order through usual steps that have nothing to do on an engine", () => {
    const [subject] = resultOf(`engine d { source: "m"; valve-gear { layout: dohc; adjuster: shim } }\nbuild b on d { plan { job: camshaft-change } }\n`).subjects.filter((s) => s.build.subject.sort === "build");
    const plan = subject && plansOf(subject.build)[0];
    expect(plan?.byName.has("adjusters-off")).toBe(false);
    expect(plan?.byName.get("shaft-out")?.after).toEqual(["crank-back"]);
  });

  test("of thousands of steps are looked at as far as a plan goes, and it is said", () => {
    const steps = Array.from({ length: 6000 }, (_, i) => `step s${i}${i > 0 ? ` after s${i - 1}` : ""}`).join("\n");
    const done = Array.from({ length: 3000 }, (_, i) => `done s${5999 - i} on 2027-03-01`).join("\n");
    const { findings } = resultOf(`${ENGINE}build wren on dunlin-18 {\nplan {\n${steps}\n${done}\n}\n}\n`);
    expect(findings.map(shown)).toEqual(["warning unknown-step: This plan has 6000 steps, and only the first 400 are looked at. Make several plans of it."]);
  });
});
