// Recording a tune that carries no fingerprint yet: offered at its head to somebody who says that it was made for the engine as it stands.
// Judges nothing: a tune that no longer fits has its own finding.
import type { Span } from "../../grammar/tree.ts";
import type { Fix } from "../rules/finding.ts";
import { FITS, recordFix } from "../rules/tune-record.ts";
import { tunesOf } from "../sheet/tune.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { hereAt } from "./spot.ts";

/** The fix that records the last tune of a build, where the span begins in its head and nothing is recorded, or not its file. */
export function recordableAt(analysis: Analysis, uri: string, span: Span): Fix | undefined {
  const here = hereAt(analysis, uri, span.start);
  if (!here || here.declaration.sort !== "build") return undefined;
  const subject = analysis.fileResult(uri)?.subjects.find((s) => s.build.subject === here.declaration);
  if (!subject) return undefined;
  const { build, sheet, data } = subject;
  const look = tunesOf(sheet, data).find((one) => one.latest);
  if (!look || here.offset < look.record.span.start || here.offset > headEnd(here.declaration.tree.text, look.record.span)) return undefined;
  const lacking = look.state.is === "unrecorded" || (look.state.is === "current" && look.file?.is === "unrecorded");
  return lacking ? recordFix(build, sheet, look, FITS) : undefined;
}

/** Up to the block, or to the end of a statement without one. */
function headEnd(text: string, { start, end }: Span): number {
  const brace = text.indexOf("{", start);
  return brace >= 0 && brace < end ? brace : end;
}
