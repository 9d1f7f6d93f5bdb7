// Figures tried without touching a file: keeps which, for as long as their files read as they did, and answers the client's questions about
// them. Wiring only, as service.ts.
import type { Connection, Position, Range } from "vscode-languageserver";
import type { Answering } from "./answers.ts";
import { linesOf, workspaceEditOf } from "./editor/protocol.ts";
import { type Tried, stillTried, trying } from "./editor/trial.ts";
import { canonicalUri } from "./model/project.ts";
import type { Analysis } from "./workspace/analyse.ts";

/** What is being tried, for the client to show beside the files, which stay as they are. */
export interface TrialAnswer {
  readonly figures: readonly { readonly uri: string; readonly range: Range; readonly words: string; readonly from: string; readonly to: string }[];
  /** Why the last step was not made. */
  readonly refusal?: string;
}

export interface Trials {
  /** What is still tried, given how the files now read. */
  current(analysis: Analysis): readonly Tried[];
}

export function answerTrials(connection: Connection, { settled, guard, spell }: Pick<Answering, "settled" | "guard" | "spell">): Trials {
  let trial: readonly Tried[] = [];
  const current = (analysis: Analysis) => (trial = stillTried(trial, analysis));
  const answer = (analysis: Analysis, refusal?: string): TrialAnswer => ({
    figures: current(analysis).map(({ uri, span, words, from, to }) => ({ uri: spell(uri), range: linesOf(analysis, uri).range(span), words, from, to })),
    ...(refusal !== undefined && { refusal }),
  });

  connection.onRequest("tappet/try", (question: unknown) =>
    guard<TrialAnswer | null>(async () => {
      if (!isStep(question)) return null;
      const uri = canonicalUri(question.uri);
      const analysis = await settled();
      const next = trying(current(analysis), analysis, uri, linesOf(analysis, uri).offset(question.position), question.by);
      if ("refusal" in next) return answer(analysis, next.refusal);
      trial = next;
      return answer(analysis);
    }, null),
  );
  connection.onRequest("tappet/trial", () => guard<TrialAnswer | null>(async () => answer(await settled()), null));
  connection.onRequest("tappet/putBack", () =>
    guard<TrialAnswer | null>(async () => {
      trial = [];
      return answer(await settled());
    }, null),
  );
  // Once the edit is made the files read otherwise, and the trial is over.
  connection.onRequest("tappet/applyTrial", () =>
    guard(async () => {
      const analysis = await settled();
      const tried = current(analysis);
      return tried.length > 0 ? workspaceEditOf(analysis, tried.map(({ uri, span, digits }) => ({ uri, span, text: digits })), spell) : null;
    }, null),
  );
  return { current };
}

function isStep(x: unknown): x is { readonly uri: string; readonly position: Position; readonly by: number } {
  if (typeof x !== "object" || x === null || !("uri" in x) || typeof x.uri !== "string" || !("by" in x) || typeof x.by !== "number" || !Number.isInteger(x.by)) return false;
  const at: unknown = "position" in x ? x.position : undefined;
  return typeof at === "object" && at !== null && "line" in at && typeof at.line === "number" && "character" in at && typeof at.character === "number";
}
