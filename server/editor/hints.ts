// Small remarks at the end of a figure: the other system's figure, and what a setting comes to. Offsets in the file out; knows no protocol.
import { formatQuantity, inOtherSystem } from "../quantity/display.ts";
import { formattedValue } from "../sheet/trace.ts";
import type { Span } from "../../grammar/tree.ts";
import type { FigureFact } from "../model/declaration.ts";
import type { Analysis, SubjectResult } from "../workspace/analyse.ts";
import { allFigures } from "./spot.ts";

export interface Hint {
  readonly at: number;
  readonly text: string;
  readonly sort: "other-unit" | "result";
}

/** A setting and the values that say at once what it comes to. */
const RESULTS: readonly { readonly path: RegExp; readonly values: readonly string[] }[] = [
  { path: /^cam-gear\.(?:(intake|exhaust)\.)?set$/, values: ["cam-gear.marks", "cam-gear.$1.marks", "centreline.$1.installed"] },
];

export function hintsOf(analysis: Analysis, uri: string, within: Span): Hint[] {
  const result = analysis.fileResult(uri);
  if (!result) return [];
  const out: Hint[] = [];
  result.file.declarations.forEach((d, i) => {
    const start = result.file.source.declarations[i]?.start ?? 0;
    if (start > within.end || start + d.tree.text.length < within.start) return;
    const subject = result.subjects.find((s) => s.build.subject === d);
    const seen = new Set<number>();
    for (const fact of allFigures(d)) {
      const at = fact.span.end + start;
      if (at < within.start || at > within.end || seen.has(at)) continue;
      seen.add(at);
      const other = otherUnit(fact);
      if (other) out.push({ at, text: other, sort: "other-unit" });
      const comes = subject && resultOf(subject, fact);
      if (comes) out.push({ at, text: comes, sort: "result" });
    }
  });
  return out;
}

function otherUnit(fact: FigureFact): string | undefined {
  if (fact.value.is !== "quantity") return undefined;
  const q = fact.value.quantity;
  const reference = Number.isFinite(q.interval.nominal) ? q.interval.nominal : q.interval.low;
  // A written pair says both already.
  if (!q.unit || q.unitSpans.length > 1) return undefined;
  const unit = inOtherSystem(q.unit, q.kind, reference);
  return unit && formatQuantity(q, { unit });
}

function resultOf(subject: SubjectResult, fact: FigureFact): string | undefined {
  for (const { path, values } of RESULTS) {
    const slot = [...subject.build.slots.values()].find((s) => path.test(s.path) && s.chain.some((p) => p.fact === fact));
    const side = slot && (path.exec(slot.path)?.[1] ?? "");
    if (side === undefined) continue;
    const found = values.map((id) => subject.sheet.byId.get(id.replace("$1", side))).filter((v) => v?.interval !== undefined);
    if (found.length > 0) return found.map((v) => (v ? `${v.label.toLowerCase()} ${formattedValue(v)}` : "")).join(", ");
  }
  return undefined;
}
