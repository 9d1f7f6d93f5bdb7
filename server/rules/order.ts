// What several rules of the order of work ask of a plan: steps passed over, days between, what a day's work disturbed, how far the engine ran.
// Judges nothing.
import type { Location, MeasuredFact, RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, wordsFor } from "../model/effective.ts";
import { stepsThatFit } from "../schema/steps.ts";
import { dateOf, figureOf, recordQuantity } from "../sheet/pull.ts";
import { heldBy } from "../sheet/running-in.ts";
import { type StepEvent, type WorkPlan, type WorkStep, doneBy, isBefore, needsBefore, plansOf } from "../sheet/work.ts";

/** Steps that other rules look after: what is due after running-in, and the tests before the work. */
export const LOOKED_AFTER: ReadonlySet<string> = new Set(["baseline", "oil-change", "retorque", "recheck-lash"]);

/** Steps in which the engine runs: what they disturb is due to be checked again rather than spoilt. */
export const RUNNING: ReadonlySet<string> = new Set(["running-in", "retorque"]);

/** The steps of a plan that were done, each with the day and what says so; a run counts as the first start. */
export function doneSteps(plan: WorkPlan): readonly { readonly step: WorkStep; readonly event: StepEvent; readonly words: string }[] {
  return plan.steps.flatMap((step) => {
    const event = step.done ?? (step.name === "first-start" ? step.shown : undefined);
    if (!event) return [];
    return [{ step, event, words: step.done ? `\`${step.name}\`` : (step.shown?.words ?? step.name) }];
  });
}

/** What a done step waits for, going on through what is not done: the nearest things that were, and all that were not. */
export function behind(plan: WorkPlan, step: WorkStep): { readonly done: readonly WorkStep[]; readonly open: readonly WorkStep[] } {
  const done: WorkStep[] = [];
  const open: WorkStep[] = [];
  const seen = new Set<string>([step.name]);
  const queue = [...step.after];
  for (let i = 0; i < queue.length; i++) {
    const need = plan.byName.get(queue[i] as string);
    if (!need || seen.has(need.name)) continue;
    seen.add(need.name);
    if (doneBy(need)) done.push(need);
    else {
      open.push(need);
      queue.push(...need.after);
    }
  }
  return { done, open };
}

/** The first done step that a step passed over should have come before; nothing where it is done or nothing went on past it. */
export function passedOver(plan: WorkPlan, name: string): { readonly step: WorkStep; readonly by: StepEvent; readonly words: string } | undefined {
  const step = plan.byName.get(name);
  if (!step || doneBy(step) || plan.since === undefined) return undefined;
  for (const later of plan.steps) {
    const by = doneBy(later);
    if (!by || !needsBefore(plan, later).some((need) => need.name === name)) continue;
    return { step, by, words: later.done ? `\`${later.name}\` was done on ${by.date}` : `there is ${later.shown?.words ?? later.name}` };
  }
  return undefined;
}

export interface Overdue {
  readonly step: WorkStep;
  readonly date: string;
  readonly at: Location;
}

/** Steps whose own day is past and that are not done. */
export function overdue(build: EffectiveBuild, asOf: string): readonly Overdue[] {
  return plansOf(build).flatMap((plan) => plan.steps.flatMap((step) => (step.due && step.due.date < asOf && !doneBy(step) ? [{ step, date: step.due.date, at: step.due.at }] : [])));
}

export interface Disturbance {
  readonly date: string;
  readonly at: Location;
  /** "`shaft-in`", "the fitting of Ridgeway 272". */
  readonly words: string;
  readonly plan?: WorkPlan;
}

/** The first thing that spoilt a reading after it was taken: a step ticked off, or a part fitted on a day. */
export function disturbanceOf(build: EffectiveBuild, fact: MeasuredFact): Disturbance | undefined {
  const taken = fact.date?.text;
  if (taken === undefined) return undefined;
  const what = fact.what.text;
  const found: Disturbance[] = [];
  for (const plan of plansOf(build))
    for (const step of plan.steps) {
      if (!step.done || RUNNING.has(step.name)) continue;
      const spoils = step.disturbs.includes(what);
      // What a trial assembly may have told stays told; what was taken before the work began does not.
      const ends = step.ends.includes(what) && plan.since !== undefined && taken < plan.since && (fact.of === undefined || step.tightens.includes(fact.of.text));
      if (!spoils && !ends) continue;
      const tick = step.ticks.find((t) => t.date > taken);
      if (tick) found.push({ date: tick.date, at: tick.at, words: `\`${step.name}\``, plan });
    }
  const { tree } = build.subject;
  for (const part of build.parts) {
    const own = part.fit.figures.find((f) => f.key.key === "fitted");
    const date = part.fit.date?.text ?? (own?.value.is === "date" ? own.value.text : undefined);
    const span = part.fit.date?.span ?? own?.span;
    if (date === undefined || span === undefined || date <= taken) continue;
    const began = plansOf(build).findLast((plan) => plan.since !== undefined && plan.since <= date)?.since ?? date;
    const steps = stepsThatFit(part.kindId);
    if (steps.some((s) => s.disturbs?.includes(what)) || (taken < began && steps.some((s) => s.ends?.includes(what)))) found.push({ date, at: { tree, span }, words: `the fitting of ${wordsFor(part.declaration)}` });
  }
  return found.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))[0];
}

/** The newest dated set of each thing measured, readings from before the work left out. */
export function newestSets(build: EffectiveBuild): readonly MeasuredFact[] {
  const newest = new Map<string, MeasuredFact>();
  for (const fact of build.measured) {
    if (!fact.date || isBefore(fact) || (fact.readings.length === 0 && fact.figures.length === 0 && !fact.table)) continue;
    const key = `${fact.what.text} ${fact.of?.text ?? ""}`;
    const other = newest.get(key);
    if (!other?.date || fact.date.text >= other.date.text) newest.set(key, fact);
  }
  return [...newest.values()];
}

/** What was run on days after this one: how far in m, how long in s. A day by itself is not told apart. */
export function ranSince(build: EffectiveBuild, date: string | undefined): { readonly distance: number; readonly time: number; readonly last?: RecordFact } {
  const runs = build.subject.records.filter((r) => r.word === "run" && dateOf(r) !== undefined).sort((a, b) => ((dateOf(a) ?? "") < (dateOf(b) ?? "") ? -1 : 1));
  const since = date === undefined ? runs : runs.filter((r) => (dateOf(r) ?? "") > date);
  const sum = (of: (run: RecordFact) => number | undefined) => since.reduce((all, run) => all + (of(run) ?? 0), 0);
  const shown = (key: string, from: readonly RecordFact[]) => from.flatMap((r) => recordQuantity(r, key)?.quantity.interval.nominal ?? []);
  const between = (key: string) => {
    const before = date === undefined ? undefined : shown(key, runs.filter((r) => (dateOf(r) ?? "") <= date)).at(-1);
    const now = shown(key, since).at(-1);
    return before !== undefined && now !== undefined ? now - before : 0;
  };
  const last = since.at(-1);
  return { distance: Math.max(sum((r) => recordQuantity(r, "distance")?.quantity.interval.nominal), between("odometer")), time: Math.max(sum(runTime), between("hours")), ...(last && { last }) };
}

/** Seconds that a run lasted: what its stages come to, or its `time`. */
export function runTime(run: RecordFact): number | undefined {
  const times = heldBy(run).flatMap((h) => h.time ?? []);
  return times.length > 0 ? times.reduce((all, time) => all + time, 0) : undefined;
}

export function saysYes(record: RecordFact, key: string): boolean {
  const value = figureOf(record, key)?.value;
  return value?.is === "yes-no" && value.yes;
}

/** Every day on which a step of any plan was ticked off, oldest first. */
export function ticksOf(build: EffectiveBuild, step: string): readonly StepEvent[] {
  return plansOf(build).flatMap((plan) => plan.byName.get(step)?.ticks ?? []).sort((a, b) => (a.date < b.date ? -1 : 1));
}

/** A day so many whole days after another. */
export function daysAfter(date: string, days: number): string {
  const [year = 0, month = 1, day = 1] = date.split("-").map(Number);
  return isoDay(dayNumber(year, month, day) + days);
}

/** Days of the Gregorian calendar from 1970-01-01, without a clock. */
function dayNumber(year: number, month: number, day: number): number {
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  return era * 146097 + yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear - 719468;
}

function isoDay(days: number): string {
  const z = days + 719468;
  const era = Math.floor(z / 146097);
  const dayOfEra = z - era * 146097;
  const yearOfEra = Math.floor((dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36524) - Math.floor(dayOfEra / 146096)) / 365);
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const mp = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * mp + 2) / 5) + 1;
  const month = mp < 10 ? mp + 3 : mp - 9;
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0);
  const two = (n: number) => String(n).padStart(2, "0");
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}`;
}
