// What fitted parts and followed cards ask of a build, and whether it is there. Shared by the rules that report it.
import type { Declaration, Location, NeedFact } from "../model/declaration.ts";
import { type EffectiveBuild, fitted, wordsFor } from "../model/effective.ts";
import { PART_KINDS } from "../schema/parts/index.ts";
import type { PartKind } from "../schema/types.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { type Outcome, judge } from "./condition.ts";
import { spanOfFit } from "./placed.ts";

export interface Asker {
  readonly declaration: Declaration;
  readonly words: string;
  /** Where the build brings it in. */
  readonly at: Location;
}

export interface AskedNeed {
  readonly asker: Asker;
  readonly need: NeedFact;
  readonly at: Location;
  /** The kind of part that is needed, when it is one. */
  readonly kind?: PartKind;
  readonly met: boolean;
}

/** Every need of every fitted part and followed card. */
export function needsOf(build: EffectiveBuild, sheet: Sheet): readonly AskedNeed[] {
  const { tree } = build.subject;
  const askers: Asker[] = [
    ...build.parts.map((p) => ({ declaration: p.declaration, words: p.words, at: { tree, span: spanOfFit(p.fit) } })),
    ...build.cards.map((c) => ({ declaration: c.declaration, words: wordsFor(c.declaration), at: { tree, span: c.follow.name.span } })),
  ];
  return askers.flatMap((asker) =>
    asker.declaration.needs.map((need) => {
      const kind = PART_KINDS.find((k) => k.id === need.what.text);
      return { asker, need, at: { tree: asker.declaration.tree, span: need.span }, ...(kind && { kind }), met: isMet(build, sheet, asker, need, kind) };
    }),
  );
}

/** The conditions of a need, judged. */
export function judgeNeed(build: EffectiveBuild, sheet: Sheet, asked: Pick<AskedNeed, "need" | "kind" | "asker">): readonly { readonly condition: NeedFact["where"][number]; readonly outcome: Outcome }[] {
  const about = asked.kind && { base: asked.kind.base ?? asked.kind.id, schema: asked.kind };
  return asked.need.where.map((condition, i, all) => ({ condition, outcome: judge(condition, { build, sheet, ...(about && { about }) }, asked.asker.declaration.tree, all.slice(i + 1)) }));
}

function isMet(build: EffectiveBuild, sheet: Sheet, asker: Asker, need: NeedFact, kind: PartKind | undefined): boolean {
  if (!kind) {
    // `needs tune`: a statement of that word. A computed value needs nothing fitted: its conditions are judged by themselves.
    return need.what.text !== "tune" || build.subject.records.some((r) => r.word === "tune");
  }
  if (fitted(build, kind.id).some((p) => p.declaration !== asker.declaration)) return true;
  // What the engine came with will do where the part says what it must be and it is: a stock spring with margin to spare.
  const outcomes = judgeNeed(build, sheet, { need, asker, kind });
  return outcomes.length > 0 && outcomes.every((o) => o.outcome.is === "met");
}
