// Ticking a step of the work off as done today: offered at the step, and at the head of a plan for what is next. Writes a day, and nothing else.
import type { Phrase, Span } from "../../grammar/tree.ts";
import { plansOf, stateOf } from "../sheet/work.ts";
import type { Analysis } from "../workspace/analyse.ts";
import type { FileEdit } from "./fixes.ts";
import { insertionAfter } from "./items.ts";
import { hereAt } from "./spot.ts";

export interface TickOff {
  readonly title: string;
  readonly edits: readonly FileEdit[];
}

/** The step that the span begins at, where it is not ticked off; at a plan's own word the first that is next. */
export function tickAt(analysis: Analysis, uri: string, span: Span): TickOff | undefined {
  const here = hereAt(analysis, uri, span.start);
  const top = here?.declaration.tree.phrase;
  if (!here || !top?.block || here.declaration.sort !== "build") return undefined;
  const subject = analysis.fileResult(uri)?.subjects.find((s) => s.build.subject === here.declaration);
  const phrase = top.block.items.find((i): i is Phrase => i.kind === "phrase" && i.word.text === "plan" && here.offset >= i.span.start && here.offset <= i.span.end);
  const plan = subject && plansOf(subject.build).find((p) => p.record && phrase && p.record.span.start === phrase.span.start);
  if (!phrase?.block?.closed || !plan) return undefined;
  const inner = phrase.block.items.find((i): i is Phrase => i.kind === "phrase" && here.offset >= i.span.start && here.offset <= i.span.end);
  const named = inner?.word.text === "step" ? inner.head.find((p) => p.kind === "word") : undefined;
  const onHead = here.offset <= phrase.block.span.start;
  const step = named?.kind === "word" ? plan.byName.get(named.text) : onHead ? plan.steps.find((s) => stateOf(plan, s) === "next") : undefined;
  if (!step || step.done) return undefined;
  const edit = insertionAfter(here.declaration.tree, phrase.block, phrase.block.items.at(-1), `done ${step.name} on ${analysis.asOf}`);
  return { title: `Tick ${step.name} off as done today, ${analysis.asOf}`, edits: [{ uri, span: { start: edit.span.start + here.start, end: edit.span.end + here.start }, text: edit.text }] };
}
