// Waivers of a workspace as a list: how each stands on a day, for a person and for programs. Knows no disk and judges nothing.
import { visible } from "../../grammar/visible.ts";
import type { Declaration, WaiverFact } from "../model/declaration.ts";
import { amountText } from "../rules/amount.ts";
import type { WaiverState } from "../rules/waiver-state.ts";
import { type WaivedFile, nameOfSubject } from "./checked.ts";
import type { SheetWaiver } from "./sheet-model.ts";
import { counted, listed } from "./wording.ts";

/** How a state is told. */
export const WAIVER_STATES: Readonly<Record<WaiverState, string>> = {
  active: "active", expiring: "ends soon", expired: "expired", outgrown: "outgrown: it has become worse than what was accepted", unused: "unused: nothing is left to silence", void: "void: it silences nothing",
};

/** Worst first: those that fail a check, then those that want a look, then those that hold. */
const ORDER: readonly WaiverState[] = ["outgrown", "expired", "void", "unused", "expiring", "active"];

export interface WaiverEntry {
  readonly rule: string;
  readonly state: WaiverState;
  readonly reason: string;
  readonly until: string | null;
  /** The figure that was accepted, as written. */
  readonly accepts: string | null;
  /** The figure as it stands now, where the finding has one. */
  readonly now: string | null;
  /** What it is granted in: a build, engine, part or card. */
  readonly in: string;
  /** The findings that it silences now. */
  readonly silences: readonly string[];
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

export interface WaiversJson {
  readonly waivers: readonly WaiverEntry[];
  readonly summary: Readonly<Record<WaiverState, number>> & { readonly asOf: string };
}

/** Every waiver of these files; worst first, then by file and line. */
export function waiversJson(files: readonly WaivedFile[], asOf: string): WaiversJson {
  const waivers = files.flatMap((file) => file.waivers.flatMap(({ waiver, declaration, state, silences, outgrown }): WaiverEntry[] => {
    const at = file.atlas.placeOf({ tree: declaration.tree, span: waiver.rule.span });
    const amount = [...outgrown, ...silences].find((f) => f.amount)?.amount;
    return [{
      rule: waiver.rule.text, state, reason: waiver.because ?? "", until: waiver.until?.text ?? null, accepts: acceptedText(declaration, waiver) ?? null, now: amount ? amountText(amount) : null,
      in: nameOfSubject(declaration), silences: silences.map((f) => f.message), file: at?.file ?? "", line: at?.range.start.line ?? 1, column: at?.range.start.column ?? 1,
    }];
  }));
  const count = (state: WaiverState) => waivers.filter((w) => w.state === state).length;
  const sorted = waivers.map((w, i) => ({ w, i })).sort((a, b) => ORDER.indexOf(a.w.state) - ORDER.indexOf(b.w.state) || a.i - b.i).map(({ w }) => w);
  return { waivers: sorted, summary: { active: count("active"), expiring: count("expiring"), expired: count("expired"), outgrown: count("outgrown"), unused: count("unused"), void: count("void"), asOf } };
}

/** True where a check fails by one of them. */
export function waiversFail({ summary }: WaiversJson): boolean {
  return summary.expired + summary.outgrown > 0;
}

export function waiversText({ waivers, summary }: WaiversJson): string {
  const blocks = waivers.map((w) => {
    const figures = w.accepts === null ? "" : ` at ${visible(w.accepts)}${w.now !== null ? ` (now ${w.now})` : ""}`;
    const lines = [`${visible(w.file)}:${w.line}:${w.column}: ${WAIVER_STATES[w.state]}`, `  ${visible(w.rule)}${figures} on ${visible(w.in)}${w.until === null ? ", without an end" : `, until ${visible(w.until)}`}, because "${visible(w.reason)}"`];
    return [...lines, ...w.silences.map((s) => `  silences: ${visible(s)}`)].join("\n");
  });
  const told = ORDER.flatMap((state) => (summary[state] > 0 ? [`${summary[state]} ${state === "void" ? "void" : state}`] : []));
  return `${[...blocks, `${counted(waivers.length, "waiver")} as of ${summary.asOf}${told.length > 0 ? `: ${listed(told)}` : ""}.`].join("\n\n")}\n`;
}

/** The figure that a waiver says it accepts, as written. */
export function acceptedText(declaration: Declaration, { at }: WaiverFact): string | undefined {
  const [first, last] = [at?.[0], at?.[at.length - 1]];
  return first && last ? declaration.tree.text.slice(first.span.start, last.span.end).replace(/\s+/g, " ").trim() : undefined;
}

/** What stands before a waiver's reason on a sheet: its figure, its end, how it stands. */
export function waiverTerms({ accepts, until, state }: Pick<SheetWaiver, "accepts" | "until" | "state">): string {
  return `${accepts === undefined ? "" : ` at ${accepts}`}${until === undefined ? "" : ` until ${until}`}${state === "active" ? "" : ` (${WAIVER_STATES[state]})`}`;
}
