// The order of work as a build's plans lay it down and as it was ticked off: steps with what comes before them, what each disturbs, when each
// was done, and what the records show of it. Reads records; judges nothing.
import type { Part } from "../../grammar/tree.ts";
import type { Location, MeasuredFact, RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, valueAt, wordAt } from "../model/effective.ts";
import { keptFor } from "../model/reads.ts";
import { calledMeasurement, measurementOf } from "../schema/measurements.ts";
import { USUAL_JOBS, USUAL_STEPS, type UsualStep, usualStep } from "../schema/steps.ts";
import { dateOf, figureOf, recordQuantity } from "./pull.ts";

/** Something dated that says a step was done. */
export interface StepEvent {
  /** Year first. */
  readonly date: string;
  readonly at: Location;
  readonly by?: string;
}

export interface WorkStep {
  readonly name: string;
  readonly usual?: UsualStep;
  /** What is done, in a few words, without a stop. */
  readonly title: string;
  /** Its name where it is written down, else where it is ticked off, else the job that brings it. */
  readonly at: Location;
  /** Steps of the same plan that come before it. */
  readonly after: readonly string[];
  readonly measures: readonly string[];
  readonly disturbs: readonly string[];
  readonly ends: readonly string[];
  /** Names of fasteners of this build. */
  readonly tightens: readonly string[];
  /** Names of fitted parts, as its own text says. */
  readonly fits: readonly string[];
  /** What its own text says of it: `do`, `set`, `check`, `lubricant`, `sealant`, `thread-lock`, `tool`, by key. */
  readonly details: readonly { readonly key: string; readonly text: string }[];
  /** Seconds to wait before what comes next. */
  readonly hold?: number;
  /** The day by which it is to be done. */
  readonly due?: { readonly date: string; readonly at: Location };
  /** Every time it was ticked off, oldest first. */
  readonly ticks: readonly StepEvent[];
  /** The last of them. */
  readonly done?: StepEvent;
  /** A record that shows it was done, whether it is ticked off or not: a run shows the first start. */
  readonly shown?: StepEvent & { readonly words: string };
}

export interface NameNotKnown {
  readonly name: string;
  readonly at: Location;
  readonly of: "step" | "measurement" | "fastener" | "part";
}

export interface WorkPlan {
  readonly record?: RecordFact;
  readonly title?: string;
  readonly at: Location;
  /** In an order that honours what comes before what, as near as may be to the order of the text. */
  readonly steps: readonly WorkStep[];
  readonly byName: ReadonlyMap<string, WorkStep>;
  /** The day of the first tick; nothing where nothing is ticked off. */
  readonly since?: string;
  /** The day on which the next plan began. */
  readonly until?: string;
  readonly notKnown: readonly NameNotKnown[];
  /** Steps and ticks past what one plan may hold: they are not looked at. */
  readonly leftOut: number;
  /** Steps that wait for each other, each for the one after it; empty where there are none. */
  readonly circle: readonly string[];
}

/** Share of full throttle from which a run counts as full load. Common practice, no source. */
export const FULL_LOAD = 0.9;

/** More steps than this are no plan, and more plans no life: what is past them is not looked at, and said so. */
const MOST_STEPS = 400;
const MOST_PLANS = 100;

/** The plans of a build in the order of the text. Steps ticked off outside any plan make one of their own. */
export const plansOf: (build: EffectiveBuild) => readonly WorkPlan[] = keptFor(readPlans);

interface Tick extends StepEvent {
  readonly step: string;
}

function readPlans(build: EffectiveBuild): readonly WorkPlan[] {
  const { records, tree } = build.subject;
  const written = records.filter((r) => r.word === "plan").slice(0, MOST_PLANS);
  const loose = records.filter((r) => r.word === "done");
  const ticks = new Map<RecordFact | undefined, Tick[]>();
  const add = (plan: RecordFact | undefined, done: RecordFact) => {
    const own = ticks.get(plan) ?? [];
    ticks.set(plan, own);
    for (const tick of ticksOf(build, done)) own.push(tick);
  };
  for (const plan of written) for (const record of plan.records) if (record.word === "done") add(plan, record);
  // A tick that stands by itself belongs to the plan above it.
  for (const done of loose) add(written.findLast((plan) => plan.span.start < done.span.start) ?? written[0], done);
  const drafts = [...written, ...(written.length === 0 && loose.length > 0 ? [undefined] : [])].map((record) => ({ record, ticks: ticks.get(record) ?? [] }));
  const firsts = drafts.map((d) => d.ticks.map((t) => t.date).sort()[0]);
  const springs = drafts.findIndex((d) => d.ticks.some((t) => t.step === "springs-in"));
  return drafts.map((draft, i) => {
    const since = firsts[i];
    const before = firsts.slice(0, i).findLast((date) => date !== undefined);
    const until = firsts.slice(i + 1).find((date) => date !== undefined && (since === undefined || date > since));
    return readPlan(build, draft.record, draft.ticks, { ...(since !== undefined && { since }), ...(until !== undefined && { until }), ...(before !== undefined && { before }), springsIn: springs >= 0 && springs < i }, { tree, span: build.subject.name?.span ?? build.subject.wordSpan });
  });
}

function ticksOf(build: EffectiveBuild, done: RecordFact): Tick[] {
  if (!done.date) return [];
  const date = done.date.text;
  const by = done.head.find((p) => p.kind === "string");
  return namesIn(done.head, ["on", "by"]).map((name) => ({ step: name.text, date, at: { tree: build.subject.tree, span: name.span }, ...(by?.kind === "string" && { by: by.text }) }));
}

/** The words at the beginning of a head, up to a joining word. */
function namesIn(head: readonly Part[], stops: readonly string[]): readonly { readonly text: string; readonly span: Location["span"] }[] {
  const names = [];
  for (const part of head) {
    if (part.kind !== "word" || stops.includes(part.text)) break;
    names.push({ text: part.text, span: part.span });
  }
  return names;
}

interface Window {
  readonly since?: string;
  readonly until?: string;
  /** The day on which the plan before began. */
  readonly before?: string;
  /** True where an earlier plan put the springs in: they are not new any more. */
  readonly springsIn?: boolean;
}

function readPlan(build: EffectiveBuild, record: RecordFact | undefined, ticks: readonly Tick[], window: Window, elsewhere: Location): WorkPlan {
  const { tree } = build.subject;
  const at = record ? { tree, span: { start: record.span.start, end: record.span.start + record.word.length } } : elsewhere;
  const jobFigure = record && figureOf(record, "job");
  const job = jobFigure?.value.is === "word" ? USUAL_JOBS[jobFigure.value.word as keyof typeof USUAL_JOBS] : undefined;
  const jobAt = jobFigure ? { tree, span: jobFigure.span } : at;
  const own = new Map<string, RecordFact>();
  const listed = new Set<string>();
  let leftOut = 0;
  const note = (name: string) => {
    if (listed.has(name)) return;
    if (listed.size < MOST_STEPS) listed.add(name);
    else leftOut++;
  };
  const ticked = new Set(ticks.map((t) => t.step));
  const ticksByStep = new Map<string, Tick[]>();
  for (const tick of ticks) {
    const own = ticksByStep.get(tick.step);
    if (own) own.push(tick);
    else ticksByStep.set(tick.step, [tick]);
  }
  for (const name of job ?? []) if ((applies(build, name) && !(name === "springs-in" && window.springsIn)) || ticked.has(name)) note(name);
  for (const step of record?.records ?? []) {
    const name = step.word === "step" ? namesIn(step.head, ["after", "before"])[0] : undefined;
    if (!name) continue;
    note(name.text);
    if (listed.has(name.text)) own.set(name.text, step);
  }
  const notKnown: NameNotKnown[] = [];
  const naming = (name: string, place: Location) => {
    if (listed.has(name)) return;
    // What a plan names belongs to it.
    if (usualStep(name)) note(name);
    else if (leftOut === 0) notKnown.push({ name, at: place, of: "step" });
  };
  const waits = new Map<string, string[]>();
  for (const [name, step] of own) {
    const said = ownNeeds(step);
    for (const need of [...said.after, ...said.before]) naming(need.text, { tree, span: need.span });
    for (const need of said.before) {
      const waiting = waits.get(need.text) ?? [];
      waits.set(need.text, waiting);
      waiting.push(name);
    }
    for (const [key, of] of LISTS) for (const each of listIn(step, key)) if (!isKnown(build, each.text, of)) notKnown.push({ name: each.text, at: { tree, span: each.span }, of });
  }
  for (const tick of ticks) naming(tick.step, tick.at);
  const overhead = isOverhead(build);
  const order = job ? ownPlaced([...listed], own) : [...listed];
  const steps = order.map((name): WorkStep => {
    const step = own.get(name);
    const usual = usualStep(name);
    const said = step ? ownNeeds(step).after.map((n) => n.text) : [];
    const needs = said.length > 0 ? said : usual ? bridged(usual, overhead, listed) : [];
    const after = [...new Set([...needs, ...(waits.get(name) ?? [])])].filter((need) => need !== name && listed.has(need));
    const mine = [...(ticksByStep.get(name) ?? [])].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
    const ownDate = step && figureOf(step, "done");
    const events: StepEvent[] = [...mine.map(({ step: _, ...event }) => event), ...(ownDate?.value.is === "date" ? [{ date: ownDate.value.text, at: { tree, span: ownDate.span } }] : [])];
    const done = events.reduce<StepEvent | undefined>((last, e) => (last === undefined || e.date >= last.date ? e : last), undefined);
    const title = step?.head.find((p) => p.kind === "string");
    const due = step && figureOf(step, "due");
    const hold = step && recordQuantity(step, "hold-time")?.quantity.interval.high;
    const names = (key: string, other: readonly string[]) => {
      const given = step ? listIn(step, key).map((n) => n.text) : [];
      return given.length > 0 ? given : other;
    };
    const nameSpan = step && namesIn(step.head, ["after", "before"])[0]?.span;
    const draft = {
      name, ...(usual && { usual }), title: title?.kind === "string" ? title.text : (usual?.title ?? sentence(name)),
      at: nameSpan ? { tree, span: nameSpan } : (mine[0]?.at ?? jobAt), after,
      measures: names("measure", usual?.measures ?? []), disturbs: names("disturbs", usual ? [...(usual.disturbs ?? []), ...(overhead ? (usual.disturbsOverhead ?? []) : [])] : []),
      ends: usual?.ends ?? [], tightens: names("tighten", (usual?.tightens ?? []).filter((f) => build.fasteners.includes(f))), fits: names("fit", []),
      details: DETAILS.flatMap((key) => {
        const value = step && figureOf(step, key)?.value;
        return value?.is === "text" ? [{ key, text: value.text }] : [];
      }),
      ...(hold !== undefined && { hold }), ...(due?.value.is === "date" && { due: { date: due.value.text, at: { tree, span: due.span } } }), ticks: events, ...(done && { done }),
    };
    return draft;
  });
  const { sorted: bare, circle } = inOrder(steps);
  const bareByName = new Map(bare.map((s) => [s.name, s]));
  const sorted = bare.map((step): WorkStep => {
    // A reading shows a step done only where what comes before it was done by then.
    const since = needsBefore({ byName: bareByName }, step).reduce((last, need) => (need.done && (last === undefined || need.done.date > last) ? need.done.date : last), window.since);
    const shown = shownBy(build, step, window, since);
    return shown ? { ...step, shown } : step;
  });
  const title = record?.head.find((p) => p.kind === "string");
  const days = steps.flatMap((s) => s.ticks.map((t) => t.date)).sort();
  return {
    ...(record && { record }), ...(title?.kind === "string" && { title: title.text }), at, steps: sorted, byName: new Map(sorted.map((s) => [s.name, s])),
    ...(days[0] !== undefined && { since: days[0] }), ...(window.until !== undefined && { until: window.until }), notKnown, leftOut, circle,
  };
}

const DETAILS = ["do", "set", "check", "lubricant", "sealant", "thread-lock", "tool"] as const;
const LISTS = [["measure", "measurement"], ["disturbs", "measurement"], ["tighten", "fastener"], ["fit", "part"]] as const;

function isKnown(build: EffectiveBuild, name: string, of: (typeof LISTS)[number][1]): boolean {
  switch (of) {
    case "measurement": return measurementOf(name) !== undefined;
    case "fastener": return build.fasteners.includes(name);
    case "part": return build.parts.some((p) => p.declaration.name?.text === name || p.kindId === name);
  }
}

function listIn(step: RecordFact, key: string): readonly { readonly text: string; readonly span: Location["span"] }[] {
  const value = figureOf(step, key)?.value;
  return value?.is === "names" ? value.names : [];
}

/** The usual steps of a job with a builder's own put where they are wanted: behind the last that they wait for, else before the first that waits. */
function ownPlaced(names: readonly string[], own: ReadonlyMap<string, RecordFact>): readonly string[] {
  const order = names.filter((name) => usualStep(name));
  for (const name of names) {
    if (usualStep(name)) continue;
    const step = own.get(name);
    const said = step && ownNeeds(step);
    const last = (said?.after ?? []).reduce((at, n) => Math.max(at, order.indexOf(n.text)), -1);
    const first = (said?.before ?? []).map((n) => order.indexOf(n.text)).reduce((at, i) => (i >= 0 ? Math.min(at, i) : at), order.length);
    order.splice(last >= 0 ? last + 1 : first, 0, name);
  }
  return order;
}

/** What a step's own text says comes before and after it, in its head or in its block. */
function ownNeeds(step: RecordFact): Record<"after" | "before", readonly { readonly text: string; readonly span: Location["span"] }[]> {
  const from = (joiner: string, other: string) => {
    const i = step.head.findIndex((p) => p.kind === "word" && p.text === joiner);
    return [...(i < 0 ? [] : namesIn(step.head.slice(i + 1), [other])), ...listIn(step, joiner)];
  };
  return { after: from("after", "before"), before: from("before", "after") };
}

/** Whether the camshaft lies above the valves; undefined where nobody says. */
export function isOverhead(build: EffectiveBuild): boolean | undefined {
  const layout = wordAt(build, "valve-gear.layout");
  return layout === undefined ? undefined : layout === "sohc" || layout === "dohc";
}

function usualNeeds(usual: UsualStep, overhead: boolean | undefined): readonly string[] {
  return [...usual.after, ...(overhead === true ? (usual.afterOverhead ?? []) : overhead === false ? (usual.afterPushrod ?? []) : [])];
}

/** The usual steps before one; for each that a plan leaves out, those before that. */
export function bridged(usual: UsualStep, overhead: boolean | undefined, listed: ReadonlySet<string>): readonly string[] {
  const found = new Set<string>();
  const seen = new Set<string>();
  const visit = (step: UsualStep): void => {
    for (const need of usualNeeds(step, overhead)) {
      if (listed.has(need)) found.add(need);
      else if (!seen.has(need)) {
        seen.add(need);
        const skipped = usualStep(need);
        if (skipped) visit(skipped);
      }
    }
  };
  visit(usual);
  found.delete(usual.id);
  return [...found];
}

/** Whether a usual step has anything to do on this build: no coolant goes into an engine that air cools, no springs in where none are new. */
export function applies(build: EffectiveBuild, step: string): boolean {
  switch (step) {
    case "coolant-in": {
      const cooled = valueAt(build, "fluids.air-cooled");
      return !(cooled?.is === "yes-no" && cooled.yes);
    }
    case "caps-down": return isOverhead(build) !== false;
    case "adjusters-off": return !["shim", "none", "hydraulic"].includes(wordAt(build, "valve-gear.adjuster") ?? "");
    case "springs-in": return build.parts.some((p) => usualStep(step)?.fits?.includes(p.kindId));
    case "retorque": return build.fasteners.some((f) => valueAt(build, `fastener.${f}.recheck-after`) !== undefined);
    default: return true;
  }
}

/** Steps so that each stands after what it waits for, otherwise in the order given; those that wait for each other stand last. */
function inOrder(steps: readonly WorkStep[]): { readonly sorted: readonly WorkStep[]; readonly circle: readonly string[] } {
  const place = new Map(steps.map((s, i) => [s.name, i]));
  const waiting = steps.map((s) => s.after.length);
  const waiters = new Map<string, number[]>();
  steps.forEach((s, i) => s.after.forEach((need) => waiters.set(need, [...(waiters.get(need) ?? []), i])));
  // Places of steps that wait for nothing more, in the order given.
  const ready = steps.flatMap((_, i) => (waiting[i] === 0 ? [i] : []));
  const sorted: WorkStep[] = [];
  for (let i = ready.shift(); i !== undefined; i = ready.shift()) {
    const step = steps[i] as WorkStep;
    sorted.push(step);
    for (const waiter of waiters.get(step.name) ?? []) {
      waiting[waiter] = (waiting[waiter] ?? 0) - 1;
      if (waiting[waiter] !== 0) continue;
      const at = ready.findIndex((other) => other > waiter);
      ready.splice(at < 0 ? ready.length : at, 0, waiter);
    }
  }
  const done = new Set(sorted.map((s) => s.name));
  const left = steps.filter((s) => !done.has(s.name)).sort((a, b) => (place.get(a.name) ?? 0) - (place.get(b.name) ?? 0));
  return { sorted: [...sorted, ...left], circle: circleIn(left) };
}

/** One circle among steps of which each waits for another: followed from the first, what comes again closes it. */
function circleIn(left: readonly WorkStep[]): readonly string[] {
  const names = new Map(left.map((s) => [s.name, s]));
  const path: string[] = [];
  for (let step = left[0]; step; ) {
    const again = path.indexOf(step.name);
    if (again >= 0) return path.slice(again);
    path.push(step.name);
    const next: string | undefined = step.after.find((need) => names.has(need));
    step = next === undefined ? undefined : names.get(next);
  }
  return [];
}

function shownBy(build: EffectiveBuild, step: Pick<WorkStep, "name" | "measures" | "tightens" | "fits" | "usual">, window: Window, since: string | undefined): WorkStep["shown"] {
  const { tree, records } = build.subject;
  const within = (date: string | undefined): date is string => date !== undefined && (window.since === undefined || date >= window.since) && (window.until === undefined || date < window.until);
  const headAt = (record: RecordFact): Location => ({ tree, span: record.date?.span ?? { start: record.span.start, end: record.span.start + record.word.length } });
  const first = (holds: (record: RecordFact) => boolean, words: string): WorkStep["shown"] => earliest(records.flatMap((record) => {
    const date = dateOf(record);
    return holds(record) && within(date) ? [{ date, at: headAt(record), words: `${words} of ${date}` }] : [];
  }));
  const isYes = (record: RecordFact, key: string) => {
    const value = figureOf(record, key)?.value;
    return value?.is === "yes-no" && value.yes;
  };
  const readings = (of: readonly string[], holds: (m: MeasuredFact) => boolean): WorkStep["shown"] =>
    earliest(build.measured.flatMap((m) => (m.date && of.includes(m.what.text) && holds(m) ? [{ date: m.date.text, at: { tree, span: m.what.span }, words: `the ${calledMeasurement(m.what.text)} measured on ${m.date.text}` }] : [])));
  switch (step.name) {
    case "baseline": return readings(step.measures, (m) => isBefore(m) && (window.before === undefined || (m.date?.text ?? "") >= window.before) && (window.until === undefined || (m.date?.text ?? "") < window.until));
    case "first-start": return first((r) => r.word === "run" || r.word === "pull", "the run");
    case "running-in": return first((r) => r.word === "run" && r.head.some((p) => p.kind === "word" && /^(running-in|run-in|break-in)$/.test(p.text)), "the run");
    case "oil-change": return first((r) => r.word === "run" && isYes(r, "oil-changed"), "the run");
    case "tune": return first((r) => r.word === "tune", "the tune");
    case "full-load": return first((r) => r.word === "pull" || (r.word === "run" && (recordQuantity(r, "load")?.quantity.interval.high ?? 0) >= FULL_LOAD), "the full load");
    case "recheck-lash": {
      const start = first((r) => r.word === "run", "the run")?.date;
      const again = start === undefined ? undefined : readings(step.measures, (m) => !isBefore(m) && within(m.date?.text) && (m.date?.text ?? "") > start && (since === undefined || (m.date?.text ?? "") >= since));
      return earliest([...(again ? [again] : []), ...[first((r) => r.word === "run" && isYes(r, "lash-rechecked"), "the run")].filter((e) => e !== undefined)]);
    }
    default:
      // Where something goes in or is tightened, a reading may have been taken in a trial assembly.
      if (step.measures.length === 0 || step.tightens.length > 0 || step.fits.length > 0 || step.usual?.ends) return undefined;
      return readings(step.measures, (m) => !isBefore(m) && within(m.date?.text) && (since === undefined || (m.date?.text ?? "") >= since));
  }
}

function earliest<E extends StepEvent>(events: readonly E[]): E | undefined {
  return events.reduce<E | undefined>((first, e) => (first === undefined || e.date < first.date ? e : first), undefined);
}

/** True of readings taken before the work: they say nothing of what is fitted now. */
export function isBefore(measured: MeasuredFact): boolean {
  return measured.qualifiers.some((q) => q.text === "before");
}

function sentence(name: string): string {
  const words = name.replaceAll("-", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Everything a step waits for, directly or through others, nearest first. */
export function needsBefore(plan: Pick<WorkPlan, "byName">, step: WorkStep): readonly WorkStep[] {
  const found = new Map<string, WorkStep>();
  const queue = [...step.after];
  for (let i = 0; i < queue.length; i++) {
    const need = plan.byName.get(queue[i] as string);
    if (!need || found.has(need.name) || need.name === step.name) continue;
    found.set(need.name, need);
    queue.push(...need.after);
  }
  return [...found.values()];
}

/** When a step was done for certain or by what a record shows. */
export function doneBy(step: WorkStep): StepEvent | undefined {
  return step.done ?? step.shown;
}

/** `done`; `next`: everything it waits for is done; `waiting`. */
export function stateOf(plan: WorkPlan, step: WorkStep): "done" | "next" | "waiting" {
  if (doneBy(step)) return "done";
  return step.after.every((need) => {
    const before = plan.byName.get(need);
    return before === undefined || doneBy(before) !== undefined;
  }) ? "next" : "waiting";
}

/** Names of every step that a plan may name. */
export function stepNames(plan: WorkPlan | undefined): readonly string[] {
  return [...new Set([...(plan?.steps.map((s) => s.name) ?? []), ...USUAL_STEPS.map((s) => s.id)])];
}
