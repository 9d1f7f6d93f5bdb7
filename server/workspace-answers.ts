// Findings of every file of the opened folders, open or not, for clients that ask for them: a question is answered in pieces, and one to which
// nothing is new waits until something is. Wiring only, as service.ts.
import { type CancellationToken, type Connection, type Diagnostic, DocumentDiagnosticReportKind, type ResultProgressReporter, type WorkspaceDiagnosticReportPartialResult, type WorkspaceDocumentDiagnosticReport } from "vscode-languageserver";
import type { Answering } from "./answers.ts";
import { canonicalUri } from "./model/project.ts";
import type { FileResult } from "./workspace/analyse.ts";

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
  /** Something changed: a question that waits looks again. */
  touched(): void;
}

/** Every file there is as it stands at a moment. */
export interface WholeFindings {
  readonly uris: readonly string[];
  /** The same object for as long as what was found, and every place that it points at, are the same. */
  resultOf(uri: string): FileResult | undefined;
  findingsOf(uri: string): readonly Diagnostic[];
  /** The client's version of an open document. */
  versionOf(uri: string): number | undefined;
}

/** So many files an answer's piece: an edit that comes meanwhile is taken in between two. */
const PIECE = 16;

/** @param wholeNow with the files as they were last listed, where they are `known`. */
export function answerWorkspace(connection: Connection, { guard, spell }: Pick<Answering, "guard" | "spell">, names: ResultNames, wholeNow: (known: boolean) => Promise<WholeFindings>): WorkspaceQuestions {
  let wake: (() => void)[] = [];
  let changes = 0;
  /** What the client's spellings of the files it was told of stand for: it gives all of them back with each question. */
  const canonical = new Map<string, string>();
  /** What was found when a file was last looked at here, and the name that its findings have. */
  const looked = new Map<string, { readonly result: FileResult | undefined; readonly open: boolean; readonly id: string }>();

  /** Sends what is new to whoever has `before`; true where anything was. */
  const round = async (before: ReadonlyMap<string, string>, token: CancellationToken, send: (items: WorkspaceDocumentDiagnosticReport[]) => void): Promise<boolean> => {
    let whole = await wholeNow(false);
    const { uris } = whole;
    let news = false;
    let piece: WorkspaceDocumentDiagnosticReport[] = [];
    const flush = () => {
      if (piece.length > 0) send(piece);
      news ||= piece.length > 0;
      piece = [];
    };
    let count = 0;
    for (const uri of uris) {
      const version = whole.versionOf(uri) ?? null;
      const open = version !== null;
      const result = whole.resultOf(uri);
      const known = looked.get(uri);
      if (known && known.result === result && known.open === open && known.id === before.get(uri)) continue;
      const items = [...whole.findingsOf(uri)];
      // An open document is asked about by itself; once it is closed, its findings are news to whoever asks here.
      const id = `${names.nameOf(uri, items)}${open ? " open" : ""}`;
      looked.set(uri, { result, open, id });
      if (id !== before.get(uri)) {
        const spelt = spell(uri);
        canonical.set(spelt, uri);
        piece.push({ kind: DocumentDiagnosticReportKind.Full, uri: spelt, version, resultId: id, items });
      }
      if (++count % PIECE > 0) continue;
      flush();
      // Lets edits and questions in.
      await new Promise<void>((go) => setTimeout(go, 0));
      if (token.isCancellationRequested) return true;
      whole = await wholeNow(true);
    }
    const there = new Set(uris);
    for (const uri of before.keys()) if (!there.has(uri)) piece.push({ kind: DocumentDiagnosticReportKind.Full, uri: spell(uri), version: null, items: [] });
    flush();
    for (const uri of looked.keys()) if (!there.has(uri)) looked.delete(uri);
    return news;
  };

  connection.languages.diagnostics.onWorkspace((params, token, _work, reporter?: ResultProgressReporter<WorkspaceDiagnosticReportPartialResult>) =>
    guard(async () => {
      const before = new Map(params.previousResultIds.map(({ uri, value }) => [canonical.get(uri) ?? canonicalUri(uri), value]));
      const items: WorkspaceDocumentDiagnosticReport[] = [];
      const send = (piece: WorkspaceDocumentDiagnosticReport[]) => void (reporter ? reporter.report({ items: piece }) : items.push(...piece));
      for (;;) {
        const seen = changes;
        const news = await round(before, token, send);
        if (news || before.size === 0 || !reporter || token.isCancellationRequested) return { items };
        if (changes !== seen) continue;
        await new Promise<void>((go) => {
          wake.push(go);
          token.onCancellationRequested(() => go());
        });
        if (token.isCancellationRequested) return { items };
      }
    }, { items: [] }),
  );

  return {
    touched() {
      changes++;
      const now = wake;
      wake = [];
      for (const go of now) go();
    },
  };
}
