// Steps of the work at the caret: which may be named next, and what a step is, waits for and disturbs. Markdown text out; knows no protocol.
import { MEASUREMENTS } from "../schema/measurements.ts";
import { USUAL_STEPS } from "../schema/steps.ts";
import { type WorkPlan, type WorkStep, doneBy, plansOf, stateOf } from "../sheet/work.ts";
import { takes } from "../report/sheet-work.ts";
import { escapeMarkdown } from "./markdown.ts";
import { type SubjectResult } from "../workspace/analyse.ts";
import type { Here } from "./spot.ts";

export interface StepOffer {
  readonly label: string;
  readonly detail: string;
  readonly rank: number;
}

/** The plan of a build that a place of its text stands in, else its last. */
function planAround(here: Here, subject: SubjectResult | undefined): WorkPlan | undefined {
  if (!subject || subject.build.subject !== here.declaration) return undefined;
  const plans = plansOf(subject.build);
  return plans.find((p) => p.record && here.offset >= p.record.span.start && here.offset <= p.record.span.end) ?? plans.at(-1);
}

/** Steps to tick off, those that are next first; or steps to write down; or steps to wait for. */
export function stepOffers(here: Here, subject: SubjectResult | undefined, what: "tick" | "write" | "wait"): readonly StepOffer[] {
  const plan = planAround(here, subject);
  const own = plan?.steps ?? [];
  if (what === "write") return USUAL_STEPS.map((step, i) => ({ label: step.id, detail: step.words, rank: own.some((s) => s.name === step.id) ? 100 + i : i }));
  const steps = own.map((step, i): StepOffer => ({ label: step.name, detail: `${step.title}.`, rank: what === "wait" || !plan ? i : { next: 0, waiting: 100, done: 200 }[stateOf(plan, step)] + i }));
  return steps.length > 0 ? steps : USUAL_STEPS.map((step, i) => ({ label: step.id, detail: step.words, rank: i }));
}

/** Names that a step's key takes: measurements, fasteners, parts, other steps. */
export function stepKeyOffers(here: Here, subject: SubjectResult | undefined, key: string): readonly StepOffer[] {
  switch (key) {
    case "measure": case "disturbs": return MEASUREMENTS.map((m, i) => ({ label: m.id, detail: m.words, rank: i }));
    case "tighten": return (subject?.build.fasteners ?? []).map((name, i) => ({ label: name, detail: "A fastener of this build.", rank: i }));
    case "fit": return (subject?.build.parts ?? []).flatMap((p, i) => (p.declaration.name ? [{ label: p.declaration.name.text, detail: p.words, rank: i }] : []));
    case "after": case "before": return stepOffers(here, subject, "wait");
    default: return [];
  }
}

/** What a step of this name is; nothing where no plan and no usual step bears it. */
export function stepText(here: Here, subject: SubjectResult | undefined, name: string): readonly string[] {
  const plan = planAround(here, subject);
  const step = plan?.byName.get(name);
  const usual = USUAL_STEPS.find((s) => s.id === name);
  if (!step && !usual) return [];
  const about: string[] = [`**${escapeMarkdown(name)}**: ${escapeMarkdown(usual?.words ?? `${step?.title ?? ""}.`)}`];
  if (step && plan && subject) {
    about.push(stateWords(plan, step));
    const taken = takes(step, subject.build);
    if (taken.length > 0) about.push(`*Takes:* ${escapeMarkdown(taken.join("; "))}`);
  }
  const after = step?.after ?? usual?.after ?? [];
  if (after.length > 0) about.push(`*After:* ${after.map(plain).join(", ")}`);
  const disturbs = [...new Set([...(step?.disturbs ?? usual?.disturbs ?? []), ...(step?.ends ?? usual?.ends ?? [])])];
  if (disturbs.length > 0) about.push(`*Ends what was measured of:* ${disturbs.map(plain).join(", ")}`);
  return about;
}

function stateWords(plan: WorkPlan, step: WorkStep): string {
  const by = doneBy(step);
  if (by) return step.done ? `Done on ${by.date}.` : `Not ticked off; ${escapeMarkdown(step.shown?.words ?? "a record")} shows it.`;
  return stateOf(plan, step) === "next" ? "Next: everything it waits for is done." : "Not done; it waits for others.";
}

function plain(name: string): string {
  return escapeMarkdown(name);
}
