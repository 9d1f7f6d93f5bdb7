// The usual order of work laid out as a plan for what a build fits: drawn from its parts, what they need, its fasteners and lubricants, and
// common practice. States no figure: torques, lash and running-in stay where they are asked for, and the sheet puts them beside the step.
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import type { Item, Span } from "../../grammar/tree.ts";
import { type EffectiveBuild, effective, wordAt, wordsFor } from "../model/effective.ts";
import { PART_KINDS } from "../schema/parts/index.ts";
import { USUAL_JOBS, USUAL_STEPS, type UsualStep, stepsThatFit } from "../schema/steps.ts";
import { applies, bridged, isOverhead } from "../sheet/work.ts";
import type { Analysis, SubjectResult } from "../workspace/analyse.ts";
import type { FileEdit } from "./fixes.ts";
import { indented, isTall, lineEndOf } from "./items.ts";
import { hereAt } from "./spot.ts";

export const LAY_OUT_PLAN = "Lay out the usual order of work for what this build fits";

/** The edit that lays the plan out, where the span begins in the head of a build, or in a plan of it that holds nothing yet. */
export function planAt(analysis: Analysis, uri: string, span: Span): readonly FileEdit[] | undefined {
  const here = hereAt(analysis, uri, span.start);
  if (!here || here.declaration.sort !== "build") return undefined;
  const block = here.declaration.tree.phrase?.block;
  const onHead = block !== undefined && here.offset <= block.span.start;
  const bare = here.declaration.records.find((r) => r.word === "plan" && here.offset >= r.span.start && here.offset <= r.span.end);
  return onHead || bare ? planFor(analysis, uri, span.start) : undefined;
}

/** The same for the build that an offset lies in, wherever in it; nothing where it fits nothing, or has a plan already. */
export function planFor(analysis: Analysis, uri: string, offset: number): readonly FileEdit[] | undefined {
  const here = hereAt(analysis, uri, offset);
  const subject = here && analysis.fileResult(uri)?.subjects.find((s) => s.build.subject === here.declaration);
  const block = here?.declaration.tree.phrase?.block;
  if (!here || !subject || subject.build.subject.sort !== "build" || !block?.closed) return undefined;
  const { tree } = here.declaration;
  const records = here.declaration.records.filter((r) => r.word === "plan" || r.word === "done");
  const [bare, ...others] = records;
  // A plan that holds something is its builder's.
  if (others.length > 0 || (bare && (bare.word === "done" || bare.records.length > 0 || bare.figures.some((f) => f.key.key !== "job")))) return undefined;
  const text = planText(subject);
  if (text === undefined) return undefined;
  const eol = lineEndOf(tree.text);
  const body = indented(text, "  ", eol);
  const edit = (start: number, end: number, words: string): readonly FileEdit[] => [{ uri, span: { start: start + here.start, end: end + here.start }, text: words }];
  if (bare) return edit(bare.span.start, bare.span.end, body.trimStart());
  if (!isTall(tree.text, block)) {
    const at = block.span.end - 1;
    const used = tree.text.slice(block.span.start + 1, at).trimEnd();
    return edit(block.span.start + 1 + used.length, at, `${eol}${body}${eol}`);
  }
  const after = [...block.items].reverse().find((item) => !LATER.has(wordOf(item)));
  const next = after ? block.items[block.items.indexOf(after) + 1] : block.items[0];
  const close = tree.text.lastIndexOf("}", block.span.end - 1);
  const at = next ? lineStart(tree.text, Math.min(next.span.start, ...("docs" in next ? next.docs.map((d) => d.span.start) : []))) : lineStart(tree.text, close);
  let end = at;
  while (end > 0 && (tree.text[end - 1] === " " || tree.text[end - 1] === "\t")) end--;
  const before = tree.text.slice(0, end);
  const gap = block.items.length === 0 || /(\r?\n|\r)[ \t]*\1$/.test(before) || before.endsWith(`{${eol}`) ? "" : eol;
  return edit(at, at, `${gap}${body}${eol}${next ? eol : ""}`);
}

/** Statements that tell of what comes after the work. */
const LATER: ReadonlySet<string> = new Set(["run", "pull", "log", "tune", "check", "waive", "note", "photo", "document"]);

function wordOf(item: Item): string {
  return item.kind === "phrase" ? item.word.text : "";
}

function lineStart(text: string, offset: number): number {
  return Math.max(text.lastIndexOf("\n", offset - 1), text.lastIndexOf("\r", offset - 1)) + 1;
}

/** The plan as the formatter lays it out, flush left; nothing where the build fits nothing that a usual step is for. */
export function planText({ build }: Pick<SubjectResult, "build">): string | undefined {
  const steps = stepsFor(build);
  if (steps.length === 0) return undefined;
  const known = new Set(steps.map((s) => s.id));
  const needs = new Map(steps.map((s) => [s.id, bridged(s, isOverhead(build), known)]));
  const lines = steps.map((step) => {
    const after = nearestOf(step.id, needs);
    const inside = entriesFor(step, build);
    return `step ${step.id} "${titleOf(step, build)}"${after.length > 0 ? ` after ${after.join(", ")}` : ""}${inside.length > 0 ? ` { ${inside.join("; ")} }` : ""}`;
  });
  const laid = format(readSource("", `build a on b {\nplan {\n${lines.join("\n")}\n}\n}\n`)).split("\n").slice(1, -2);
  return laid.map((line) => line.slice(2)).join("\n");
}

const BOTTOM = ["crankshaft", "bearing", "block", "piston", "ring", "rod"];
const HEAD = ["head", "gasket", "valve"];
const CAM = ["camshaft"];

/** Usual steps for the parts that are fitted, and those that they need. */
function stepsFor(build: EffectiveBuild): readonly UsualStep[] {
  const kinds = new Set(build.parts.map((p) => p.kindId));
  for (const { declaration } of [...build.parts, ...build.cards]) for (const need of declaration.needs) if (PART_KINDS.some((k) => k.id === need.what.text)) kinds.add(need.what.text);
  const has = (list: readonly string[]) => list.some((kind) => kinds.has(kind));
  const overhead = isOverhead(build) === true;
  const chosen = new Set<string>();
  const take = (job: keyof typeof USUAL_JOBS) => USUAL_JOBS[job].forEach((step) => chosen.add(step));
  if (has(BOTTOM)) take("full-build");
  if (has(HEAD)) take("head-off");
  if (has(CAM)) take("camshaft-change");
  const open = chosen.size > 0;
  for (const kind of kinds) {
    const own = stepsThatFit(kind);
    if (own.length > 0 && !own.some((step) => chosen.has(step.id))) chosen.add((own[0] as UsualStep).id);
  }
  if (chosen.size === 0) return [];
  // Whatever was done, the engine is tested before and started after.
  for (const step of open ? [] : ["baseline", "first-start"]) chosen.add(step);
  if (chosen.has("springs-in") && !open) for (const step of ["turn-by-hand", "set-lash", "turn-again"]) chosen.add(step);
  if (chosen.has("gear-on") && !open) for (const step of ["crank-back", "turn-by-hand", "degree-cam", "set-lash", "turn-again", "oil-primed", "coolant-in"]) chosen.add(step);
  if (build.parts.some((p) => p.declaration.needs.some((n) => n.what.text === "tune")) || chosen.has("intake-on")) for (const step of ["tune", "full-load"]) chosen.add(step);
  if (has(["camshaft", "ring", "follower", "lifter"])) for (const step of ["running-in", "oil-change"]) chosen.add(step);
  // A pushrod engine's head comes off without its drive; its camshaft stays where it is.
  if (has(HEAD) && !has(BOTTOM) && !has(CAM) && !overhead) for (const step of ["crank-back", "gear-on", "degree-cam"]) chosen.delete(step);
  return USUAL_STEPS.filter((step) => chosen.has(step.id) && (step.id === "springs-in" ? kinds.has("valve-spring") || kinds.has("retainer") || kinds.has("valve") : applies(build, step.id)));
}

/** What a step waits for without what it waits for through another. */
function nearestOf(step: string, needs: ReadonlyMap<string, readonly string[]>): readonly string[] {
  const own = needs.get(step) ?? [];
  const reach = (from: string, seen: Set<string>): Set<string> => {
    for (const need of needs.get(from) ?? []) {
      if (seen.has(need)) continue;
      seen.add(need);
      reach(need, seen);
    }
    return seen;
  };
  return own.filter((need) => !own.some((other) => other !== need && reach(other, new Set()).has(need)));
}

function entriesFor(step: UsualStep, build: EffectiveBuild): readonly string[] {
  const fitted = build.parts.filter((p) => step.fits?.includes(p.kindId));
  const tightens = [...new Set([...(step.tightens ?? []).filter((f) => build.fasteners.includes(f)), ...fitted.flatMap((p) => p.declaration.fasteners.map((f) => f.name.text)).filter((f) => build.fasteners.includes(f) && !USUAL_STEPS.some((s) => s.tightens?.includes(f)))])];
  const measures = (step.measures ?? []).flatMap((what) => (what === "lash" ? lashOf(build) : [what]));
  const lubricants = build.parts.filter((p) => p.kindId === "lubricant" && LUBRICATED[step.id]?.includes(forOf(p.declaration.figures.find((f) => f.key.key === "for")?.value)));
  const threads = tightens.flatMap((name) => {
    const given = effective(build.slots.get(`fastener.${name}.lubricant`))?.fact.value;
    return given?.is === "text" ? [`${given.text} on ${name}`] : [];
  });
  const locked = tightens.filter((name) => ["torque", "tighten"].some((key) => {
    const value = effective(build.slots.get(`fastener.${name}.${key}`))?.fact.value;
    return value?.is === "quantity" ? value.qualifiers["lubrication"] === "threadlocked" : value?.is === "stages" && value.stages.some((s) => s.qualifiers["lubrication"] === "threadlocked");
  }));
  const oils = [...lubricants.map((p) => wordsFor(p.declaration)), ...threads];
  return [
    ...(tightens.length > 0 ? [`tighten: ${tightens.join(", ")}`] : []), ...(measures.length > 0 ? [`measure: ${measures.join(", ")}`] : []),
    ...(oils.length > 0 ? [`lubricant: "${quotable(oils.join("; "))}"`] : []), ...(locked.length > 0 ? [`thread-lock: "on ${locked.join(" and ")}"`] : []),
  ];
}

/** What each lubricant goes into. */
const LUBRICATED: Readonly<Record<string, readonly string[]>> = { "shaft-in": ["assembly"], "pistons-in": ["assembly"], "crank-in": ["assembly"], "first-start": ["break-in"], "oil-change": ["engine"] };

function forOf(value: { readonly is: string; readonly word?: string } | undefined): string {
  return value?.is === "word" ? (value.word ?? "") : "";
}

/** What is set at the valves: lash, or how far hydraulic lifters are pressed down. */
function lashOf(build: EffectiveBuild): readonly string[] {
  if (wordAt(build, "valve-gear.adjuster") !== "hydraulic" && ![...build.slots.keys()].some((path) => /^valve-gear\.(intake|exhaust)\.preload/.test(path))) return ["lash"];
  return [...build.slots.keys()].some((path) => path.endsWith(".preload-turns")) ? ["preload-turns"] : ["preload"];
}

function titleOf(step: UsualStep, build: EffectiveBuild): string {
  if (step.id === "running-in") return runningIn(build);
  const preloaded = step.measures?.includes("lash") === true && lashOf(build)[0] !== "lash";
  return preloaded ? (step.id === "set-lash" ? "Preload set, from where the lash has just gone" : "Preload looked at once more") : step.title;
}

function runningIn(build: EffectiveBuild): string {
  const askers = [...build.slots.values()].filter((s) => s.key.key === "break-in").flatMap((slot) => {
    const given = effective(slot);
    return given && given.origin.sort !== "engine" ? [given.origin.words] : [];
  });
  return askers.length > 0 ? quotable(`Running-in as ${[...new Set(askers)].join(" and ")} asks`) : "Running-in";
}

/** Words inside quotes: what would end them is left out. */
function quotable(words: string): string {
  return words.replace(/["\r\n]/g, " ").replace(/\s+/g, " ").trim();
}

