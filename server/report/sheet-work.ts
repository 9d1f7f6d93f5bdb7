// The order of work on the sheet: what is next, every step with its box, what it takes, what it waits for. Judges nothing.
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import { calledMeasurement } from "../schema/measurements.ts";
import { type WorkPlan, type WorkStep, doneBy, plansOf, stateOf } from "../sheet/work.ts";
import type { Atlas, Place } from "./place.ts";
import type { SheetList } from "./sheet-model.ts";
import { writtenText } from "./sheet-values.ts";
import { capital, listed } from "./wording.ts";

export interface WorkSource {
  readonly build: EffectiveBuild;
  readonly atlas: Atlas;
  /** The day that due dates are held against. */
  readonly asOf: string;
}

/** What is next, then each plan as boxes to tick. */
export function workLists(source: WorkSource): SheetList[] {
  const plans = plansOf(source.build).filter((plan) => plan.steps.length > 0);
  const next = plans.slice(-1).flatMap((plan) => plan.steps.flatMap((step) => {
    const due = dueWords(step, source.asOf);
    return !doneBy(step) && (stateOf(plan, step) === "next" || due !== "") ? [{ text: textOf(step, source), ...(due !== "" && { note: due }), ...placeOf(step, source) }] : [];
  }));
  return [...(next.length > 0 ? [{ caption: "Next", ticks: false, items: next }] : []), ...plans.map((plan) => ({ caption: captionOf(plan, plans.length > 1), ticks: true, items: plan.steps.map((step) => itemOf(plan, step, source)) }))];
}

function captionOf(plan: WorkPlan, several: boolean): string {
  const title = plan.title ?? jobWords(plan) ?? "Steps";
  return several && plan.since !== undefined ? `${title}, begun on ${plan.since}` : title;
}

function jobWords(plan: WorkPlan): string | undefined {
  const job = plan.record?.figures.find((f) => f.key.key === "job")?.value;
  return job?.is === "word" ? capital(job.word.replaceAll("-", " ")) : undefined;
}

function itemOf(plan: WorkPlan, step: WorkStep, source: WorkSource): SheetList["items"][number] {
  const by = doneBy(step);
  const note = by ? (step.done ? (by.by !== undefined ? by.by : "") : `by ${step.shown?.words ?? ""}`) : [stateOf(plan, step) === "next" ? "next" : waitsFor(plan, step), dueWords(step, source.asOf)].filter((t) => t !== "").join(", ");
  return { text: textOf(step, source), ...(by && { done: by.date }), ...(note !== "" && { note }), ...placeOf(step, source) };
}

function placeOf(step: WorkStep, { atlas }: WorkSource): { place?: Place } {
  const place = atlas.placeOf(step.at);
  return place ? { place } : {};
}

function waitsFor(plan: WorkPlan, step: WorkStep): string {
  const open = step.after.flatMap((need) => {
    const before = plan.byName.get(need);
    return before && !doneBy(before) ? [before.name] : [];
  });
  return open.length === 0 ? "" : `after ${listed([...open.slice(0, MOST), ...(open.length > MOST ? [`${open.length - MOST} more`] : [])])}`;
}

/** More names than this are not read beside a box. */
const MOST = 2;

/** "was due on …" once the day is past. */
export function dueWords(step: WorkStep, asOf: string): string {
  if (!step.due || doneBy(step)) return "";
  return step.due.date < asOf ? `was due on ${step.due.date}` : `due on ${step.due.date}`;
}

/** What is done, and everything it takes. */
function textOf(step: WorkStep, source: WorkSource): string {
  const taken = takes(step, source.build);
  return taken.length > 0 ? `${step.title}: ${taken.join("; ")}` : step.title;
}

/** Parts that go in, torques, readings, what its own text says, what its makers ask for. */
export function takes(step: WorkStep, build: EffectiveBuild): readonly string[] {
  const parts = build.parts.filter((p) => (step.fits.length > 0 ? step.fits.includes(p.declaration.name?.text ?? p.kindId) : step.usual?.fits?.includes(p.kindId)));
  const torques = step.tightens.flatMap((name) => {
    const given = effective(build.slots.get(`fastener.${name}.tighten`)) ?? effective(build.slots.get(`fastener.${name}.torque`));
    return given ? [`${name} ${writtenText(given)}`] : [name];
  });
  const own = step.details.map((d) => (d.key === "do" ? d.text : `${d.key.replaceAll("-", " ")}: ${d.text}`));
  const asked = step.name === "running-in" ? breakIn(build) : [];
  return [
    ...parts.map((p) => [p.words, ...p.fit.figures.filter((f) => f.key.key === "set").map((f) => p.fit.block ? build.subject.tree.text.slice(f.span.start, f.span.end).replace(/\s+/g, " ") : "")].filter((t) => t !== "").join(", ")), ...torques, ...own, ...asked, ...(step.measures.length > 0 && !doneBy(step) ? [`measure ${listed(step.measures.map(calledMeasurement))}`] : []),
    ...(step.hold !== undefined ? [`then leave it ${formatValue(step.hold, "time", step.hold >= 3600 ? "hour" : "minute")}`] : []),
  ];
}

function breakIn(build: EffectiveBuild): readonly string[] {
  return [...build.slots.values()].filter((s) => s.key.key === "break-in").flatMap((slot) => {
    const given = effective(slot);
    return given && given.origin.sort !== "engine" ? [`${writtenText(given)}, ${given.origin.words}`] : [];
  });
}

export interface StepJson {
  readonly name: string;
  readonly title: string;
  readonly state: "done" | "next" | "waiting";
  /** Null where it is not done. */
  readonly done: string | null;
  /** True where no tick says so but a record does: a run shows the first start. */
  readonly shown: boolean;
  readonly due: string | null;
  readonly after: readonly string[];
  readonly measures: readonly string[];
  readonly tightens: readonly string[];
  readonly takes: readonly string[];
}

export interface PlanJson {
  readonly title: string | null;
  readonly begun: string | null;
  readonly steps: readonly StepJson[];
}

export function workJson(build: EffectiveBuild): readonly PlanJson[] {
  return plansOf(build).map((plan) => ({
    title: plan.title ?? jobWords(plan) ?? null, begun: plan.since ?? null,
    steps: plan.steps.map((step) => ({
      name: step.name, title: step.title, state: stateOf(plan, step), done: doneBy(step)?.date ?? null, shown: step.done === undefined && step.shown !== undefined, due: step.due?.date ?? null,
      after: step.after, measures: step.measures, tightens: step.tightens, takes: takes(step, build),
    })),
  }));
}
