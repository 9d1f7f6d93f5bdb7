// The usual order of work laid out: whatever is fitted on whatever engine, the result reads, is laid out as the formatter would, raises
// nothing, and ticked off in its order goes on raising nothing.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import { edited } from "../../server/editor/change.ts";
import { completionsAt } from "../../server/editor/completion.ts";
import { hoverAt } from "../../server/editor/hover.ts";
import { planAt, planFor } from "../../server/editor/plan-layout.ts";
import { tickAt } from "../../server/editor/ticking-off.ts";
import { PART_KINDS } from "../../server/schema/parts/index.ts";
import { plansOf } from "../../server/sheet/work.ts";
import { MAIN, analyseText, resultOf, shown } from "../support/project.ts";

const ENGINE = (layout: string, adjuster: string, cooled: string) => `engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
${layout === "" ? "" : `  valve-gear { layout: ${layout}; adjuster: ${adjuster} }\n`}${cooled === "" ? "" : `  fluids { air-cooled: ${cooled} }\n`}  fastener head-bolt { thread: M11x1.5; class: 10.9; torque: 75 N·m oiled; recheck-after: 500 km; lubricant: "oil" }
  fastener cam-cap { thread: M8x1.25; class: 8.8; torque: 20 ± 2 N·m oiled }
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 58 N·m threadlocked }
}
`;

/** The text with the plan laid out in its build. */
function laidOut(text: string): string | undefined {
  const edits = planFor(analyseText(text), MAIN, text.indexOf("build wren") + 2);
  return edits && edited(text, edits);
}

const order = ["unknown-step", "circular-plan", "step-before-its-need", "step-missing", "measured-before-step", "stale-measurement", "recheck-due", "retorque-due", "oil-change-due", "step-due", "date-in-future"];

describe("a plan that is laid out", () => {
  test("is read, formatted and raises nothing, whatever is fitted on whatever engine, and ticked off in its order it still raises nothing", () => {
    const kinds = fc.subarray(PART_KINDS.map((k) => k.id), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(kinds, fc.constantFrom("", "sohc", "dohc", "ohv", "side-valve"), fc.constantFrom("screw", "shim", "hydraulic", "none"), fc.constantFrom("", "yes", "no"), fc.constantFrom("", "  run hill on 2026-05-01 { time: 20 min }\n", "  plan { }\n", "  plan { job: head-off }\n"), fc.boolean(), (fitted, layout, adjuster, cooled, more, dos) => {
        const parts = fitted.map((kind, i) => `part ${kind} p${i} "Part ${i}" for dunlin-18 { source: "label" }`).join("\n");
        const build = `${ENGINE(layout, adjuster, cooled)}${parts}\n\nbuild wren on dunlin-18 {\n  interference: no\n${fitted.map((_, i) => `  fit p${i}\n`).join("")}${more}}\n`;
        const text = dos ? format(readSource("", build)).replaceAll("\n", "\r\n") : format(readSource("", build));
        const before = resultOf(text).findings.map(shown);
        const after = laidOut(text);
        if (after === undefined) return;
        const result = resultOf(after);
        expect(result.file.source.declarations.flatMap((d) => d.tree.problems)).toEqual([]);
        expect(format(readSource("", after))).toBe(after);
        expect(result.findings.map(shown).filter((f) => !before.includes(f))).toEqual([]);
        expect(laidOut(after), "a plan that holds something is its builder's").toBeUndefined();
        const plan = plansOf((result.subjects.find((s) => s.build.subject.name?.text === "wren") as (typeof result.subjects)[number]).build)[0];
        expect(plan?.circle).toEqual([]);
        const ticks = (plan?.steps ?? []).map((step, i) => `  done ${step.name} on 2027-03-${String(i + 1).padStart(2, "0")}\n`);
        expect(ticks.length).toBeGreaterThan(1);
        expect(ticks.length).toBeLessThan(32);
        const done = after.replace(/\}\s*$/, `${ticks.join("")}}\n`);
        expect(resultOf(done).findings.filter((f) => order.includes(f.rule)).map(shown)).toEqual([]);
        // The same ticks the other way round are seen through.
        const days = (plan?.steps ?? []).map((_, i) => `2027-03-${String(i + 1).padStart(2, "0")}`);
        const reversed = after.replace(/\}\s*$/, `${(plan?.steps ?? []).map((step, i) => `  done ${step.name} on ${days[days.length - 1 - i] ?? ""}\n`).join("")}}\n`);
        if (plan?.steps.some((step) => step.after.length > 0)) expect(resultOf(reversed).findings.map((f) => f.rule)).toContain("step-before-its-need");
      }),
      { numRuns: 120, seed: 20270314 },
    );
  });

  const SHAFT = `${ENGINE("sohc", "screw", "")}part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  needs valve-spring
  needs tune after fitting
  break-in: 1800 .. 2400 rpm for 20 min
}
part lubricant lobe-paste "Lobe paste" { source: "label"; for: assembly }
build wren on dunlin-18 {
  interference: no
  fit ridgeway-272
  fit lobe-paste

  run hill on 2026-05-01 { time: 20 min }
}
`;

  test("is drawn from parts, what they need, fasteners and lubricants, and stands before what comes after the work", () => {
    const text = laidOut(SHAFT) ?? "";
    for (const line of [
      '    step springs-in "Springs and retainers in, heights and loads taken" after shaft-out { measure: spring-height, spring-load }',
      '    step shaft-in "Shaft laid in, lobes and journals coated; turned only while the followers are out or slack" after inspect, springs-in { lubricant: "Lobe paste" }',
      '    step gear-on "Cam to its mark, crank to its mark, gear and drive on" after seal-in { tighten: cam-gear; thread-lock: "on cam-gear" }',
      '    step running-in "Running-in as Ridgeway 272 asks" after first-start',
      '    step full-load "Full load" after tune, oil-change',
    ]) expect(text.split("\n").map((l) => l.replace(/ +\{/, " {")), line).toContain(line);
    expect(text).toMatch(/fit lobe-paste\n\n {2}plan \{\n/);
    expect(text).toMatch(/\n {2}\}\n\n {2}run hill/);
    // The order that keeps valves and pistons apart.
    const names = [...text.matchAll(/^ {4}step (\S+)/gm)].map((m) => m[1]);
    const usual = ["crank-back", "adjusters-off", "inspect", "shaft-in", "caps-down", "seal-in", "gear-on", "turn-by-hand", "degree-cam", "set-lash", "turn-again", "coolant-in", "oil-primed", "first-start", "running-in", "oil-change", "recheck-lash", "tune", "full-load"];
    expect(names.filter((n) => usual.includes(n as string))).toEqual(usual);
  });

  test("states no figure that is asked for elsewhere", () => {
    const plan = /plan \{[\s\S]*?\n {2}\}/.exec(laidOut(SHAFT) ?? "")?.[0] ?? "";
    expect(plan.length).toBeGreaterThan(500);
    expect(plan).not.toMatch(/\d\s*(?:N·m|rpm|mm|min\b)/);
  });

  test("is offered at the head of a build and in an empty plan, and nowhere else", () => {
    const analysis = analyseText(SHAFT);
    const at = (words: string, into = 1) => planAt(analysis, MAIN, { start: SHAFT.indexOf(words) + into, end: SHAFT.indexOf(words) + into });
    expect(at("build wren")).toHaveLength(1);
    expect(at("fit ridgeway")).toBeUndefined();
    expect(at("engine dunlin-18")).toBeUndefined();
    const empty = SHAFT.replace("  fit lobe-paste\n", "  fit lobe-paste\n  plan { job: camshaft-change }\n");
    expect(planAt(analyseText(empty), MAIN, { start: empty.indexOf("plan {") + 2, end: empty.indexOf("plan {") + 2 })).toHaveLength(1);
    const bare = SHAFT.replace("  fit ridgeway-272\n  fit lobe-paste\n", "");
    expect(planFor(analyseText(bare), MAIN, bare.indexOf("build wren") + 1), "nothing is fitted").toBeUndefined();
  });
});

describe("steps at the caret", () => {
  const TEXT = `${ENGINE("sohc", "screw", "")}part seal lip for dunlin-18 { source: "label" }
build wren on dunlin-18 {
  fit lip
  plan {
    job: camshaft-change
    step shaft-checked "Shaft measured" after shaft-out { measure: ; tighten: ; fit:  }
    done baseline on 2027-03-01
    done  on 2027-03-02
  }
}
`;
  const analysis = analyseText(TEXT);
  const offers = (words: string, into: number) => completionsAt(analysis, MAIN, TEXT.indexOf(words) + into).sort((a, b) => a.rank - b.rank).map((c) => c.label);

  test("what is next is offered first to be ticked off", () => {
    expect(offers("done  on", 5).slice(0, 1)).toEqual(["crank-back"]);
    expect(offers("done  on", 5)).toContain("shaft-checked");
  });

  test("readings, fasteners and parts are offered where a step names them", () => {
    expect(offers("measure: ;", 9)).toContain("lash");
    expect(offers("tighten: ;", 9)).toEqual(["head-bolt", "cam-cap", "cam-gear"]);
    expect(offers("fit:  }", 5)).toEqual(["lip"]);
  });

  test("today is offered as the day", () => {
    const text = TEXT.replace("done  on 2027-03-02", "done crank-back on ");
    expect(completionsAt(analyseText(text), MAIN, text.indexOf("crank-back on ") + 14).map((c) => c.label)).toContain("2027-06-01");
  });

  test("a step tells what it is, when it was done, what it waits for and what it ends", () => {
    const hover = (words: string, text = TEXT, a = analysis) => hoverAt(a, MAIN, text.indexOf(words) + 2)?.markdown ?? "";
    expect(hover("baseline on")).toContain("Done on 2027-03-01.");
    expect(hover("shaft-out {")).toContain("*After:* adjusters-off");
    expect(hover("shaft-out {")).toContain("*Ends what was measured of:* lash, preload");
    expect(hover("shaft-checked")).toContain("Shaft measured.");
  });
});

describe("ticking off", () => {
  const TEXT = `${ENGINE("sohc", "screw", "")}build wren on dunlin-18 {
  plan {
    job: camshaft-change
    step oiled "Lobes oiled" after inspect
    done baseline on 2027-03-01
  }
  plan { step one; step two after one }
}
`;
  const ticked = (words: string, text = TEXT) => {
    const at = text.indexOf(words) + 1;
    const tick = tickAt(analyseText(text), MAIN, { start: at, end: at });
    return tick && { title: tick.title, text: edited(text, tick.edits) };
  };

  test("writes today beside the plan's other ticks, at a step or for what is next", () => {
    expect(ticked("step oiled")).toEqual({ title: "Tick oiled off as done today, 2027-06-01", text: TEXT.replace("done baseline on 2027-03-01\n", "done baseline on 2027-03-01\n    done oiled on 2027-06-01\n") });
    expect(ticked("plan {\n")?.title).toBe("Tick crank-back off as done today, 2027-06-01");
    expect(ticked("step two")?.text).toContain("plan { step one; step two after one; done two on 2027-06-01 }");
  });

  test("keeps the text as the formatter lays it out, and the step is done then", () => {
    const after = ticked("step oiled", format(readSource("", TEXT)))?.text ?? "";
    expect(format(readSource("", after))).toBe(after);
    const subject = resultOf(after).subjects.find((s) => s.build.subject.name?.text === "wren");
    expect(subject && plansOf(subject.build)[0]?.byName.get("oiled")?.done?.date).toBe("2027-06-01");
  });

  test("is not offered where the step is done, nor outside a plan", () => {
    const text = TEXT.replace("done baseline on 2027-03-01", "done oiled on 2027-03-01");
    expect(ticked("step oiled", text)).toBeUndefined();
    expect(ticked("build wren")).toBeUndefined();
    expect(ticked("engine dunlin")).toBeUndefined();
  });
});
