// Findings of every file of the opened folders, open or not, for clients that ask for them: a question is answered in pieces, and one to which
// nothing is new waits until something is. Wiring only, as service.ts.
import { type CancellationToken, type Connection, type Diagnostic, DocumentDiagnosticReportKind, type ResultProgressReporter, type WorkspaceDiagnosticReportPartialResult, type WorkspaceDocumentDiagnosticReport } from "vscode-languageserver";
import type { Answering } from "./answers.ts";
import { canonicalUri } from "./model/project.ts";

/** Gives the findings of a document the same name as long as they are the same. */
export interface ResultNames {
  nameOf(uri: string, items: readonly Diagnostic[]): string;
}

export function resultNames(): ResultNames {
  const last = new Map<string, { readonly text: string; readonly name: string }>();
  let count = 0;
  return {
    nameOf(uri, items) {
      const text = JSON.stringify(items);
      const known = last.get(uri);
      if (known?.text === text) return known.name;
      const name = String(++count);
      last.set(uri, { text, name });
      return name;
    },
  };
}

export interface WorkspaceQuestions {
  /** These may have other findings now; every file may where none are named. */
  touched(uris?: readonly string[]): void;
}

export interface WholeFindings {
  /** Reads what is missing and says which files there are. */
  files(): Promise<readonly string[]>;
  findingsOf(uri: string): Promise<readonly Diagnostic[]>;
  /** The client's version of an open document. */
  versionOf(uri: string): number | undefined;
}

/** So many files an answer's piece: an edit that comes meanwhile is taken in between two. */
const PIECE = 16;

export function answerWorkspace(connection: Connection, { guard, spell }: Pick<Answering, "guard" | "spell">, names: ResultNames, whole: WholeFindings): WorkspaceQuestions {
  let wake: (() => void)[] = [];
  /** What changed since the last answer; undefined for everything. */
  let dirty: Set<string> | undefined;
  /** Files that look for a name which no file in their sight declares: any file may come to declare it. */
  const looking = new Set<string>();
  let known: readonly string[] = [];

  const reportOf = async (uri: string, before: string | undefined): Promise<WorkspaceDocumentDiagnosticReport> => {
    const items = [...(await whole.findingsOf(uri))];
    const version = whole.versionOf(uri) ?? null;
    if (items.some((d) => d.code === "unresolved-name")) looking.add(uri);
    else looking.delete(uri);
    // An open document is asked about by itself; once it is closed, its findings are news to whoever asks here.
    const resultId = `${names.nameOf(uri, items)}${version === null ? "" : " open"}`;
    return resultId === before ? { kind: DocumentDiagnosticReportKind.Unchanged, uri: spell(uri), version, resultId } : { kind: DocumentDiagnosticReportKind.Full, uri: spell(uri), version, resultId, items };
  };

  const round = async (before: ReadonlyMap<string, string>, first: boolean, token: CancellationToken, send: (items: WorkspaceDocumentDiagnosticReport[]) => void): Promise<boolean> => {
    const wanted = first ? undefined : dirty;
    dirty = new Set();
    if (!wanted) known = await whole.files();
    const there = new Set(known);
    const uris = wanted ? known.filter((uri) => wanted.has(uri) || looking.has(uri)) : known;
    let news = false;
    for (let i = 0; i < uris.length && !token.isCancellationRequested; i += PIECE) {
      const piece: WorkspaceDocumentDiagnosticReport[] = [];
      for (const uri of uris.slice(i, i + PIECE)) piece.push(await reportOf(uri, before.get(uri)));
      const told = first ? piece : piece.filter((r) => r.kind === DocumentDiagnosticReportKind.Full);
      news ||= piece.some((r) => r.kind === DocumentDiagnosticReportKind.Full);
      if (told.length > 0) send(told);
      // Lets edits and questions in.
      await new Promise<void>((go) => setTimeout(go, 0));
    }
    if (token.isCancellationRequested) {
      dirty = undefined;
      return true;
    }
    const gone = [...before.keys()].filter((uri) => !there.has(uri)).map((uri): WorkspaceDocumentDiagnosticReport => ({ kind: DocumentDiagnosticReportKind.Full, uri: spell(uri), version: null, items: [] }));
    if (gone.length > 0 && !wanted) send(gone);
    return news || (gone.length > 0 && !wanted);
  };

  connection.languages.diagnostics.onWorkspace((params, token, _work, reporter?: ResultProgressReporter<WorkspaceDiagnosticReportPartialResult>) =>
    guard(async () => {
      const before = new Map(params.previousResultIds.map(({ uri, value }) => [canonicalUri(uri), value]));
      const items: WorkspaceDocumentDiagnosticReport[] = [];
      const send = (piece: WorkspaceDocumentDiagnosticReport[]) => void (reporter ? reporter.report({ items: piece }) : items.push(...piece));
      for (let first = true; ; first = false) {
        const news = await round(before, first, token, send);
        if (news || before.size === 0 || !reporter || token.isCancellationRequested) return { items };
        if (dirty === undefined || dirty.size > 0) continue;
        await new Promise<void>((go) => {
          wake.push(go);
          token.onCancellationRequested(() => go());
        });
        if (token.isCancellationRequested) return { items };
      }
    }, { items: [] }),
  );

  return {
    touched(uris) {
      if (uris && dirty) for (const uri of uris) dirty.add(uri);
      else if (!uris) dirty = undefined;
      const now = wake;
      wake = [];
      for (const go of now) go();
    },
  };
}
