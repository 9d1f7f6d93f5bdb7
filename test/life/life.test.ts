// One build from its first spec to its second season, edited as in a shop. After each edit everything that is open is named, and nothing else
// may be found. Further parts of a life (recordings, tunes, comparisons) take the story up where it stands.
import { describe, expect, test } from "vitest";
import { sheetText } from "../../server/report/sheet-text.ts";
import { planFor } from "../../server/editor/plan-layout.ts";
import { plansOf, stateOf } from "../../server/sheet/work.ts";
import { makeSheet } from "../../server/workspace/build-sheet.ts";
import { storyOf } from "./story.ts";

const lash = (date: string, exhaust3: string, exhaust4 = "0.35", more = "") => `measured lash cold on ${date} {
    ${more}
    | valve (mm) |    1 |    2 |    3 |    4 |
    | intake a   | 0.20 | 0.20 | 0.20 | 0.20 |
    | intake b   | 0.20 | 0.20 | 0.20 | 0.20 |
    | exhaust    | 0.35 | 0.35 | ${exhaust3} | ${exhaust4} |
  }`;
const cranking = (date: string, third: string, more = "") => `measured cranking hot on ${date}${more} {
    throttle: open
    | cylinder (bar) |    1 |    2 |    3 |    4 |
    | dry            | 12.4 | 12.2 | ${third} | 12.3 |
  }`;

const UNKNOWN_GAP = /^error piston-valve-unknown: `vernier-18` moves the exhaust valves nearer/;
const NO_TUNE = /^advice need-unmet: Ridgeway 272 needs a `tune` after fitting/;

/** Every finding matches its place in the list, and there are no others. */
function expectFound(found: readonly string[], wanted: readonly (string | RegExp)[]): void {
  const open = [...found];
  const missing = wanted.filter((w) => {
    const i = open.findIndex((f) => (typeof w === "string" ? f === w || f.startsWith(w) : w.test(f)));
    if (i >= 0) open.splice(i, 1);
    return i < 0;
  });
  expect({ missing: missing.map(String), surplus: open }).toEqual({ missing: [], surplus: [] });
}

describe("the life of a build", () => {
  const story = storyOf("wren.tappet", `use "../parts/ridgeway.tappet"
use "../parts/marlpit.tappet"
use "../shop.tappet"

build wren "Wren hill-climb car" on dunlin-18 {
  fuel: petrol; octane: 98 RON
  redline: 7200 rpm
}
`);
  const openSteps = (asOf: string) => plansOf((story.result(asOf).subjects[0] as NonNullable<ReturnType<typeof story.result>["subjects"][number]>).build).map((plan) => plan.steps.filter((s) => stateOf(plan, s) === "next").map((s) => s.name));

  test("January: a first spec raises nothing; a shaft asks for what it needs", () => {
    expectFound(story.found("2027-01-05"), []);
    story.replace("redline: 7200 rpm\n", "redline: 7200 rpm\n\n  fit ridgeway-272 { condition: new }\n");
    expectFound(story.found("2027-01-06"), [
      "error coil-bind-margin: The intake spring stands at 27.35 mm at full lift and is solid at 27.40 mm", "error need-unmet: Ridgeway 272 needs a `valve-spring` with `coil-bind-margin` at least 1.5 mm, and none is fitted.",
      "error need-unmet: Ridgeway 272 needs a `retainer`, and none is fitted.", "error need-unmet: Ridgeway 272 needs a `cam-gear` that is `adjustable`, and none is fitted.",
    ]);
    story.add("fit vernier-18 { set: 3 deg crank retarded; marks: 3 }", "fit marlpit-400 { condition: new }", "fit marlpit-r18 { condition: new }", "follow gear-bolt", "lash { intake: 0.20 mm cold; exhaust: 0.35 mm cold }");
    expectFound(story.found("2027-01-10"), [UNKNOWN_GAP]);
  });

  test("the usual order of work is laid out, and changes nothing that is found", () => {
    const edits = planFor(story.analysis("2027-01-10"), story.uri, story.text().indexOf("build wren"));
    expect(edits).toHaveLength(1);
    story.apply(edits ?? []);
    expectFound(story.found("2027-01-10"), [UNKNOWN_GAP]);
    expect(openSteps("2027-01-10")).toEqual([["baseline"]]);
  });

  test("taken apart before it was tested; the test turns up in a notebook", () => {
    story.add("done crank-back, adjusters-off, shaft-out, inspect on 2027-01-16");
    expectFound(story.found("2027-01-16"), [UNKNOWN_GAP, "advice no-baseline: The engine came apart before cranking pressures or leak-down were written down."]);
    story.add(cranking("2027-01-09", "12.5", " before teardown"));
    expectFound(story.found("2027-01-16"), [UNKNOWN_GAP]);
    expect(openSteps("2027-01-16")).toEqual([["springs-in"]]);
  });

  test("February: a day is mistyped, and corrected", () => {
    story.add("done springs-in on 2027-02-06", "measured spring-height on 2027-02-06 { intake: 38.0 mm; exhaust: 38.0 mm }", "done shaft-in on 2027-02-13", "done caps-down, seal-in, gear-on, turn-by-hand on 2027-02-12");
    expectFound(story.found("2027-02-13"), [UNKNOWN_GAP, "warning step-before-its-need: `caps-down` was done on 2027-02-12, and `shaft-in`, which comes first, on 2027-02-13."]);
    story.replace("done shaft-in on 2027-02-13", "done shaft-in on 2027-02-12");
    expectFound(story.found("2027-02-13"), [UNKNOWN_GAP]);
  });

  test("what is measured needs no tick", () => {
    story.add("measured centreline crank on 2027-02-13 { intake: 112 deg; exhaust: 110 deg; method: wheel }", "measured piston-valve on 2027-02-13 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }", lash("2027-02-14", "0.35"), "done turn-again on 2027-02-14");
    expectFound(story.found("2027-02-14"), []);
    expect(openSteps("2027-02-14")).toEqual([["coolant-in", "oil-primed"]]);
  });

  test("started with two boxes empty, and on the road after eight minutes of twenty", () => {
    story.add("run first-start on 2027-02-20 { speed: 1800 .. 2400 rpm for 8 min; load: 0 % }");
    expectFound(story.found("2027-02-20"), [NO_TUNE, "warning step-missing: There is the run of 2027-02-20, and `oil-primed` and `coolant-in`, which come before it, are not."]);
    story.add("done coolant-in, oil-primed on 2027-02-20", "run road on 2027-02-21 { distance: 40 km; load: 50 % }");
    expectFound(story.found("2027-02-21"), [NO_TUNE, "warning break-in-incomplete: Ridgeway 272 asks for 1800 .. 2400 rpm for 20 min, and by the run road of 2027-02-21 the engine had 8 min of it: 12 min are still due."]);
    story.replace("rpm for 8 min", "rpm for 20 min");
    story.add("done running-in on 2027-02-20");
    expectFound(story.found("2027-02-21"), [NO_TUNE]);
  });

  test("March: tuned and on the rollers with lash and oil as they were", () => {
    story.add("done tune on 2027-03-06");
    expectFound(story.found("2027-03-06"), [NO_TUNE, "warning recheck-due: The lash must be measured again after the engine has run, and was not before `tune` of 2027-03-06."]);
    story.add('tune on 2027-03-06 { base-timing: 12 deg btdc at 950 rpm; jets: "main 128" }', "pull on 2027-03-06 {\n    at: wheels; correction: none\n    | rpm | torque (N·m) | afr |\n    | 4000 | 126 | 12.9 |\n    | 5250 | 140 | 12.7 |\n    | 7200 | 116 | 12.7 |\n  }");
    expectFound(story.found("2027-03-06"), ["warning lash-not-rechecked: Ridgeway 272 first ran on 2027-02-20, and the lash was not checked again before the pull of 2027-03-06.", "warning oil-change-due: The oil was not changed after running-in, and there is the full load of 2027-03-06."]);
    story.add(lash("2027-02-27", "0.35", "0.34"));
    story.replace("distance: 40 km; load: 50 % }", "distance: 40 km; load: 50 %; oil-changed: yes; filter-cut: yes }");
    expectFound(story.found("2027-03-06"), []);
  });

  test("June: one exhaust valve has closed up", () => {
    story.add("run hills on 2027-06-12 { distance: 60 km; load: 100 %; max-rpm: 7150 rpm }", lash("2027-06-13", "0.30", "0.34"), cranking("2027-06-14", "11.0"));
    story.add('note private "valves second-hand, do not say from whom" on 2027-06-14', 'photo "photos/exhaust-3.jpg" "seat of exhaust 3" on 2027-06-14');
    expectFound(story.found("2027-06-14"), [
      "error lash-tight: Exhaust, cylinder 3 has 0.30 mm of lash and Ridgeway 272 asks for 0.35 ± 0.02 mm cold.",
      "warning lash-closing: The lash of exhaust, cylinder 3 closed by 0.05 mm: 0.35 mm on 2027-02-14, 0.30 mm on 2027-06-13.",
    ]);
    const text = sheet("2027-06-14", false);
    expect(text).toMatch(/Exhaust, cylinder 3 +0\.35 mm +0\.35 mm +0\.30 mm +-0\.05 mm/);
    expect(text).toMatch(/Cylinder 3 +12\.5 bar +11\.0 bar +-1\.5 bar/);
  });

  test("a sheet for everybody leaves the private note out, and nothing else", () => {
    expect(sheet("2027-06-14", false)).toContain("valves second-hand");
    expect(sheet("2027-06-14", true)).not.toContain("valves second-hand");
    expect(sheet("2027-06-14", true)).toContain("photos/exhaust-3.jpg");
    expect(sheet("2027-06-14", true)).toContain("cam card in the box");
  });

  test("October: the head comes off; what was read of the valves is not judged while the plan will read it again", () => {
    story.add('plan "Head off, second season" {\n    job: head-off\n    done baseline on 2027-10-02\n    done crank-back, head-off on 2027-10-09\n  }');
    expectFound(story.found("2027-10-09"), []);
    expect(openSteps("2027-10-09")).toEqual([[], ["head-on"]]);
  });

  test("November: ticked off without a reading, and with them", () => {
    story.add("done head-on on 2027-11-06", "done gear-on, turn-by-hand, degree-cam, check-piston-valve, set-lash, turn-again on 2027-11-07");
    expectFound(story.found("2027-11-07"), [
      "warning stale-measurement: The centreline was measured on 2027-02-13, and `head-off` disturbed it on 2027-10-09.", "warning stale-measurement: The gap between piston and valve was measured on 2027-02-13, and `head-off` disturbed it on 2027-10-09.",
      "warning stale-measurement: The lash was measured on 2027-06-13, and `head-off` disturbed it on 2027-10-09.",
    ]);
    story.add("measured centreline crank on 2027-11-07 { intake: 112 deg; exhaust: 110 deg; method: wheel }", "measured piston-valve on 2027-11-07 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }", lash("2027-11-07", "0.35", "0.35", 'tool: "feelers of 0.01 mm"; temperature: 9 °C; by: "M. A."'));
    story.add("done coolant-in, oil-primed on 2027-11-13", "run first-start on 2027-11-13 { speed: 2000 rpm for 15 min }", cranking("2027-11-20", "12.5"));
    expectFound(story.found("2027-11-20"), []);
  });

  test("a year that is mistyped is told, and an earlier look at the file stays what it was", () => {
    story.replace("measured cranking hot on 2027-11-20", "measured cranking hot on 2072-11-20");
    expectFound(story.found("2027-11-20"), ["warning date-in-future: 2072-11-20 has not come yet: today is 2027-11-20."]);
    story.replace("measured cranking hot on 2072-11-20", "measured cranking hot on 2027-11-20");
    expectFound(story.found("2027-11-20"), []);
    expect(story.found("2027-11-20")).toEqual(story.found("2029-01-01"));
  });

  function sheet(asOf: string, open: boolean): string {
    const analysis = story.analysis(asOf);
    const [subject] = analysis.fileResult(story.uri)?.subjects ?? [];
    if (!subject) throw new Error("the build is gone");
    return sheetText(makeSheet(analysis, subject, (uri) => uri.slice(uri.lastIndexOf("/") + 1), undefined, { open }).model);
  }
});
