// What may be done at a place besides a finding's own fixes: lay out what is missing, share a figure through a card, give a part its own
// declaration. Titles say what an action does to the figures. Edits that cost something are worked out when an action is chosen.
import type { Span } from "../../grammar/tree.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { type Change, analysisAfter, leavesFigures } from "./change.ts";
import { editsOf } from "./fixes.ts";
import { missingAt } from "./missing-parts.ts";
import { movableAt, movedOut, restingOn, separableAt, separated } from "./moving-out.ts";
import { LAY_OUT_PLAN, planAt } from "./plan-layout.ts";
import { asCard, sharedAt } from "./sharing.ts";
import { tickAt } from "./ticking-off.ts";
import { recordableAt } from "./tune-recording.ts";
import { bindableAt } from "./waiving.ts";

export type Task = "lay-out" | "plan" | "tick" | "record-tune" | "bind-waiver" | "card" | "own-file" | "own-declaration" | "separate";

export interface PlacedAction {
  readonly title: string;
  readonly kind: "quickfix" | "refactor.extract" | "refactor.rewrite";
  readonly task: Task;
}

/** @param makesFiles whether the client can make files. */
export function actionsAt(analysis: Analysis, uri: string, span: Span, makesFiles: boolean): PlacedAction[] {
  const out: PlacedAction[] = missingAt(analysis, uri, span).map(({ title }) => ({ title, kind: "refactor.rewrite", task: "lay-out" }));
  if (planAt(analysis, uri, span)) out.push({ title: LAY_OUT_PLAN, kind: "refactor.rewrite", task: "plan" });
  const tick = tickAt(analysis, uri, span);
  if (tick) out.push({ title: tick.title, kind: "refactor.rewrite", task: "tick" });
  const recordable = recordableAt(analysis, uri, span);
  if (recordable) out.push({ title: recordable.title, kind: "refactor.rewrite", task: "record-tune" });
  const bindable = bindableAt(analysis, uri, span);
  if (bindable) out.push({ title: bindable.title, kind: "refactor.rewrite", task: "bind-waiver" });
  const movable = movableAt(analysis, uri, span);
  if (movable) {
    // In a file that stands on no disk, or beside an engine of the same file, a file of its own is not to be had.
    if (makesFiles && movedOut(analysis, uri, movable, true)) out.push({ title: `Move this ${movable.kind.id} to a file of its own, as ${movable.name}`, kind: "refactor.extract", task: "own-file" });
    out.push({ title: `Declare this ${movable.kind.id} above the build, as ${movable.name}`, kind: "refactor.extract", task: "own-declaration" });
  }
  const separable = makesFiles ? separableAt(analysis, uri, span) : undefined;
  if (separable && separated(analysis, uri, separable))
    out.push({ title: `Move this ${separable.declaration.kind?.id ?? separable.declaration.sort} to a file of its own, as ${separable.name}`, kind: "refactor.extract", task: "separate" });
  const shared = sharedAt(analysis, uri, span);
  if (shared && (makesFiles || shared.builds.every((b) => b.uri === uri)))
    out.push({ title: `Turn ${shared.words}, the same in ${shared.builds.length} builds, into a card they follow (asked for by the card, no longer chosen)`, kind: "refactor.extract", task: "card" });
  return out;
}

/** What a chosen action does; undefined where it cannot be done without altering a figure. */
export function changeFor(analysis: Analysis, uri: string, span: Span, task: Task): Change | undefined {
  if (task === "lay-out") {
    const found = missingAt(analysis, uri, span)[0];
    return found && { edits: found.edits, creates: [] };
  }
  if (task === "plan" || task === "tick") {
    const edits = task === "plan" ? planAt(analysis, uri, span) : tickAt(analysis, uri, span)?.edits;
    return edits && { edits, creates: [] };
  }
  if (task === "record-tune" || task === "bind-waiver") {
    const found = task === "record-tune" ? recordableAt(analysis, uri, span) : bindableAt(analysis, uri, span);
    return found && { edits: editsOf(analysis, found), creates: [] };
  }
  if (task === "card") {
    const shared = sharedAt(analysis, uri, span);
    return shared && asCard(analysis, uri, shared);
  }
  if (task === "separate") {
    const separable = separableAt(analysis, uri, span);
    const change = separable && separated(analysis, uri, separable);
    return change && leavesFigures(analysis, analysisAfter(analysis, change), restingOn(analysis, uri)) ? change : undefined;
  }
  const movable = movableAt(analysis, uri, span);
  return movable && movedOut(analysis, uri, movable, task === "own-file");
}
