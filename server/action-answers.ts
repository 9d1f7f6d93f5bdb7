// The language server's code actions: fixes, all safe fixes at once, waivers, and what may be done at a place. Wiring only, as service.ts.
import { type ClientCapabilities, type CodeAction, CodeActionKind, type Connection, type Range, type ServerCapabilities } from "vscode-languageserver";
import type { Answering } from "./answers.ts";
import { type Task, actionsAt, changeFor } from "./editor/actions.ts";
import { fixesAt, safeFixes } from "./editor/fixes.ts";
import { diagnosticOf, linesOf, workspaceChangeOf, workspaceEditOf } from "./editor/protocol.ts";
import { planFor } from "./editor/plan-layout.ts";
import { type Waivable, waivableAt, waivedAs, waiverFor } from "./editor/waiving.ts";
import { canonicalUri } from "./model/project.ts";
import type { Analysis } from "./workspace/analyse.ts";

const FIX_ALL = `${CodeActionKind.SourceFixAll}.tappet`;

export const ACTIONS: ServerCapabilities = {
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorExtract, CodeActionKind.RefactorRewrite, FIX_ALL], resolveProvider: true },
};

/** What a client can do with a code action. */
export interface ActionAbilities {
  readonly related: boolean;
  /** Works an edit out only when the action is chosen. */
  readonly resolves: boolean;
  readonly makesFiles: boolean;
  /** Has a command of its own that asks for a reason. */
  readonly asksReasons: boolean;
}

export function actionAbilitiesOf(abilities: ClientCapabilities, options: unknown): Omit<ActionAbilities, "related"> {
  const edits = abilities.workspace?.workspaceEdit;
  return {
    resolves: abilities.textDocument?.codeAction?.dataSupport === true && abilities.textDocument.codeAction.resolveSupport?.properties.includes("edit") === true,
    makesFiles: edits?.documentChanges === true && edits.resourceOperations?.includes("create") === true,
    asksReasons: typeof options === "object" && options !== null && "asksReasons" in options && options.asksReasons === true,
  };
}

/** What a code action carries until it is chosen. */
interface ActionData {
  readonly uri: string;
  readonly range: Range;
  readonly task: Task;
}

/** A finding that a client wants to accept, by what the client was shown of it. */
export interface WaiveQuestion {
  readonly uri: string;
  readonly rule: string;
  readonly range: Range;
  readonly path?: string;
  readonly because: string;
  readonly until?: string;
}

/** A finding that can be accepted, for the client to ask about. */
export interface WaivableAnswer extends Omit<WaiveQuestion, "because" | "until"> {
  readonly message: string;
  readonly needsDate: boolean;
  /** A day to propose. */
  readonly until: string;
}

export function answerActions(connection: Connection, { settled, guard, spell }: Answering, abilities: () => ActionAbilities): void {
  connection.onCodeAction(({ textDocument, range, context }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      const span = { start: lines.offset(range.start), end: lines.offset(range.end) };
      const { related, resolves, makesFiles } = abilities();
      const wanted = (kind: string) => !context.only || context.only.some((only) => kind === only || kind.startsWith(`${only}.`));
      const actions: CodeAction[] = [];
      // All at once only when asked for by name: it is for saving, not for the menu at a figure.
      const all = context.only && wanted(FIX_ALL) ? safeFixes(analysis, uri) : [];
      if (all.length > 0) actions.push({ title: "Apply all fixes that change no figure", kind: FIX_ALL, edit: workspaceEditOf(analysis, all, spell) });
      if (wanted(CodeActionKind.QuickFix))
        for (const fix of fixesAt(analysis, uri, span)) {
          const diagnostic = diagnosticOf(analysis, uri, fix.finding, related, spell);
          // Preferred is what a builder may take without reading on: only what changes no figure, and is the finding's only way out.
          const preferred = fix.safe && fix.finding.fixes.length === 1;
          actions.push({ title: fix.title, kind: CodeActionKind.QuickFix, ...(diagnostic && { diagnostics: [diagnostic] }), ...(preferred && { isPreferred: true }), edit: workspaceEditOf(analysis, fix.edits, spell) });
        }
      for (const { title, kind, task } of actionsAt(analysis, uri, span, makesFiles)) {
        if (!wanted(kind)) continue;
        const change = resolves ? undefined : changeFor(analysis, uri, span, task);
        if (!resolves && !change) continue;
        actions.push({ title, kind, ...(change ? { edit: workspaceChangeOf(analysis, change, spell) } : { data: { uri: textDocument.uri, range, task } satisfies ActionData }) });
      }
      // To accept what was found comes last: first comes putting it right.
      if (wanted(CodeActionKind.QuickFix)) for (const waivable of waivableAt(analysis, uri, span)) actions.push(waiveAction(analysis, uri, waivable));
      return actions;
    }, []),
  );

  connection.onCodeActionResolve((action) =>
    guard(async () => {
      const data: unknown = action.data;
      if (!isActionData(data)) return action;
      const uri = canonicalUri(data.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      const change = changeFor(analysis, uri, { start: lines.offset(data.range.start), end: lines.offset(data.range.end) }, data.task);
      return change ? { ...action, edit: workspaceChangeOf(analysis, change, spell) } : action;
    }, action),
  );

  const waiveAction = (analysis: Analysis, uri: string, { finding, needsDate, until }: Waivable): CodeAction => {
    const { related, asksReasons } = abilities();
    const diagnostic = diagnosticOf(analysis, uri, finding, related, spell);
    const known = { kind: CodeActionKind.QuickFix, ...(diagnostic && { diagnostics: [diagnostic] }) };
    if (asksReasons) {
      const title = `Accept this finding with a reason (waive ${waivedAs(analysis, finding)})`;
      return { ...known, title, command: { title, command: "tappet.waive", arguments: [waivableAnswer(analysis, uri, finding, needsDate, until)] } };
    }
    // An empty reason silences nothing: the finding stays until one is written.
    const edits = waiverFor(analysis, finding, { because: "", ...(needsDate && { until }) });
    return { ...known, title: `Waive ${waivedAs(analysis, finding)}${needsDate ? ` until ${until}` : ""}: write the reason between the quotes`, edit: workspaceEditOf(analysis, edits, spell) };
  };

  const waivableAnswer = (analysis: Analysis, uri: string, finding: Waivable["finding"], needsDate: boolean, until: string): WaivableAnswer => {
    const start = analysis.places.placeOf(finding.at.tree)?.start ?? 0;
    const range = linesOf(analysis, uri).range({ start: finding.at.span.start + start, end: finding.at.span.end + start });
    return { uri: spell(uri), rule: finding.rule, range, ...(finding.path !== undefined && { path: finding.path }), message: finding.message, needsDate, until };
  };

  // For a client that asks the person: what can be accepted at a place, and the edit once the reason is known.
  connection.onRequest("tappet/waivable", (question: unknown) =>
    guard<readonly WaivableAnswer[]>(async () => {
      if (!isPlace(question)) return [];
      const uri = canonicalUri(question.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      return waivableAt(analysis, uri, { start: lines.offset(question.range.start), end: lines.offset(question.range.end) }).map((w) => waivableAnswer(analysis, uri, w.finding, w.needsDate, w.until));
    }, []),
  );
  connection.onRequest("tappet/plan", (question: unknown) =>
    guard(async () => {
      if (!isPlace(question)) return null;
      const uri = canonicalUri(question.uri);
      const analysis = await settled();
      const edits = planFor(analysis, uri, linesOf(analysis, uri).offset(question.range.start));
      return edits ? workspaceEditOf(analysis, edits, spell) : null;
    }, null),
  );
  connection.onRequest("tappet/waive", (question: unknown) =>
    guard(async () => {
      if (!isWaiveQuestion(question)) return null;
      const uri = canonicalUri(question.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      const found = waivableAt(analysis, uri, { start: lines.offset(question.range.start), end: lines.offset(question.range.end) }).find((w) => w.finding.rule === question.rule && (question.path === undefined || w.finding.path === question.path));
      return found ? workspaceEditOf(analysis, waiverFor(analysis, found.finding, { because: question.because, ...(question.until !== undefined && { until: question.until }) }), spell) : null;
    }, null),
  );
}

function isRange(x: unknown): x is Range {
  const isPosition = (p: unknown) => typeof p === "object" && p !== null && "line" in p && typeof p.line === "number" && "character" in p && typeof p.character === "number";
  return typeof x === "object" && x !== null && "start" in x && isPosition(x.start) && "end" in x && isPosition(x.end);
}

function isPlace(x: unknown): x is { readonly uri: string; readonly range: Range } {
  return typeof x === "object" && x !== null && "uri" in x && typeof x.uri === "string" && "range" in x && isRange(x.range);
}

function isWaiveQuestion(x: unknown): x is WaiveQuestion {
  return isPlace(x) && "rule" in x && typeof x.rule === "string" && "because" in x && typeof x.because === "string" && (!("until" in x) || /^\d{4}-\d{2}-\d{2}$/.test(String(x.until))) && (!("path" in x) || typeof x.path === "string");
}

function isActionData(x: unknown): x is ActionData {
  return isPlace(x) && "task" in x && typeof x.task === "string" && ["lay-out", "plan", "tick", "record-tune", "bind-waiver", "card", "own-file", "own-declaration", "separate"].includes(x.task);
}
