// The language server's wiring, the same in Node and in a browser worker: protocol messages to questions, answers to protocol messages.
// It decides nothing about engines.
import {
  type Connection, DidChangeWatchedFilesNotification, type DocumentDiagnosticReport, DocumentDiagnosticReportKind, FileChangeType, type InitializeParams, type InitializeResult, TextDocumentSyncKind, TextDocuments,
} from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import manifest from "../package.json" with { type: "json" };
import { ACTIONS, type ActionAbilities, actionAbilitiesOf, answerActions } from "./action-answers.ts";
import { CHAINS, answerChains } from "./chain-answers.ts";
import { type Answering, FURTHER, MOVES, answerFurther } from "./answers.ts";
import { format } from "../grammar/printer.ts";
import { readSource } from "../grammar/read.ts";
import { completionsAt } from "./editor/completion.ts";
import { definitionsAt } from "./editor/definition.ts";
import { hoverAt } from "./editor/hover.ts";
import { pathsAt } from "./editor/paths.ts";
import { outlineOf } from "./editor/outline.ts";
import { completionItemOf, diagnosticsOf, linesOf, linesOfText, symbolOf, workspaceEditOf } from "./editor/protocol.ts";
import type { Host } from "./workspace/host.ts";
import { type Project, canonicalUri } from "./model/project.ts";
import { revisionHost } from "./client-host.ts";
import { type CompareQuestion, comparisonFor } from "./editor/compare.ts";
import { loadProject } from "./workspace/load.ts";
import { createWorkspace } from "./workspace/workspace.ts";
import { hearRecordings } from "./recording-answers.ts";
import { answerTrials } from "./trial-answers.ts";
import type { Analysis } from "./workspace/analyse.ts";
import { answerWorkspace, resultNames } from "./workspace-answers.ts";
import { type ExportQuestion, type FixQuestion, type LastSheets, type SheetAnswer, type SheetQuestion, exportFor, sheetFix, sheetFor, triedSheetFor } from "./editor/sheet.ts";

export interface Machine {
  readonly host: Host;
  /** Today, year first, where the person is. */
  today(): string;
  /** The folders that were opened: nothing outside them is read. */
  setRoots(uris: readonly string[]): void;
}

/** Answers a client over a connection until it closes. Bad input is answered, never thrown. */
export function serve(connection: Connection, machine: Machine): void {
  const workspace = createWorkspace(machine.host);
  const documents = new TextDocuments(TextDocument);
  let pulls = false;
  let refreshes = false;
  let related = false;
  let snippets = false;
  let moves = false;
  let watches = false;
  let acting: Omit<ActionAbilities, "related"> = { resolves: false, makesFiles: false, asksReasons: false };
  let folders: readonly string[] = [];
  // Inside, a file has one name; to the client it goes by the one that the client opened it under.
  const spellings = new Map<string, string>();
  const lastSheets: LastSheets = new Map();
  const spell = (uri: string) => spellings.get(uri) ?? uri;

  connection.onInitialize((params: InitializeParams): InitializeResult => {
    const abilities = params.capabilities;
    pulls = abilities.textDocument?.diagnostic !== undefined;
    refreshes = abilities.workspace?.diagnostics?.refreshSupport === true;
    related = abilities.textDocument?.publishDiagnostics?.relatedInformation === true || abilities.textDocument?.diagnostic?.relatedInformation === true;
    acting = actionAbilitiesOf(abilities, params.initializationOptions);
    watches = abilities.workspace?.didChangeWatchedFiles?.dynamicRegistration === true;
    moves = abilities.workspace?.workspaceFolders === true;
    snippets = abilities.textDocument?.completion?.completionItem?.snippetSupport === true;
    // Clients without folders of their own name one root.
    folders = (params.workspaceFolders ?? []).map((f) => f.uri);
    if (!params.workspaceFolders && params.rootUri) folders = [params.rootUri];
    machine.setRoots(folders);
    return {
      serverInfo: { name: manifest.name, version: manifest.version },
      capabilities: {
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: false },
        hoverProvider: true,
        // Not at the end of a line: what came up by itself would be taken by the Enter of whoever leaves a line blank.
        completionProvider: { triggerCharacters: [" ", ":", "|", "(", ".", '"', "/"], resolveProvider: false },
        definitionProvider: true,
        documentSymbolProvider: true,
        documentFormattingProvider: true,
        ...FURTHER,
        ...ACTIONS,
        ...CHAINS,
        diagnosticProvider: { identifier: "tappet", interFileDependencies: true, workspaceDiagnostics: true },
        workspace: { workspaceFolders: { supported: true, changeNotifications: true }, fileOperations: { willRename: MOVES } },
      },
    };
  });

  /** The analysis with everything used read in. A later edit may overtake it; the answer is then for the newer text. */
  const settled = async () => {
    if (workspace.pending()) {
      while (workspace.pending()) await workspace.settle();
      watchData();
    }
    return workspace.analysis(machine.today());
  };

  const findingsOf = async (uri: string) => diagnosticsOf(await settled(), uri, related, spell);

  /** Every file of the opened folders. They are listed again only when files came or went. */
  let listed = false;
  let everListed = false;
  const whole = async () => {
    if (!listed) {
      listed = watches;
      everListed = true;
      const listings = await Promise.all(folders.map((folder) => machine.host.list(canonicalUri(folder))));
      workspace.keep([...new Set(listings.flatMap((l) => ("uris" in l ? l.uris.map(canonicalUri) : [])))]);
    }
    const analysis = await workspace.whole(machine.today());
    recordings.wanted();
    return analysis;
  };
  /** The same as last listed: for what is asked at every key. */
  const known = async () => (everListed ? workspace.whole(machine.today()) : whole());

  const watched = new Set<string>();
  /** Asks a client that can watch to watch the tune files that builds name, once each, by the last step of their path. */
  const watchData = () => {
    if (!watches) return;
    if (watched.size >= MOST_WATCHED) return;
    const names = new Set(workspace.dataNames().map((uri) => uri.slice(uri.lastIndexOf("/") + 1)).filter((name) => name !== "" && !watched.has(name)));
    const patterns = [...names].slice(0, MOST_WATCHED - watched.size).map((name) => ({ globPattern: `**/${decodedName(name).replace(/[[\]{}*?,\\]/g, "?")}` }));
    for (const name of names) watched.add(name);
    if (patterns.length > 0) void connection.client.register(DidChangeWatchedFilesNotification.type, { watchers: patterns });
  };

  /** Tells the client whose findings may be others now. `edited` is the document that the client itself changed and asks about again unbidden. */
  const tell = async (uris: readonly string[], edited?: string) => {
    void connection.sendNotification("tappet/changed", { uris: uris.map(spell) });
    if (pulls) {
      // The client asks again for the document it edits; others that rest on it must be told to.
      if (refreshes && uris.some((uri) => uri !== edited)) connection.languages.diagnostics.refresh();
      return;
    }
    for (const uri of uris) {
      const shown = spell(uri);
      const version = documents.get(shown)?.version;
      const diagnostics = await findingsOf(uri);
      if (documents.get(shown)?.version !== version) continue;
      await connection.sendDiagnostics({ uri: shown, diagnostics, ...(version !== undefined && { version }) });
    }
  };

  const openUsersOf = (uri: string) => workspace.usersOf(uri).filter((user) => workspace.isOpen(user));

  // One failure ends one answer, never the server.
  const guard = <T>(work: () => Promise<T> | T, otherwise: T): Promise<T> =>
    Promise.resolve()
      .then(work)
      .catch((error: unknown) => {
        connection.console.error(`An answer failed: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
        return otherwise;
      });

  const names = resultNames();
  const questions = answerWorkspace(connection, { guard, spell }, names, async (listedNow) => {
    const all = await (listedNow ? known() : whole());
    // Names are looked for further from a file that is not open.
    const own = await settled();
    const analysisOf = (uri: string) => (workspace.isOpen(uri) ? own : all);
    return {
      uris: [...all.project.files.keys(), ...documents.keys().map(canonicalUri).filter((uri) => !all.project.files.has(uri))],
      resultOf: (uri) => analysisOf(uri).fileResult(uri),
      findingsOf: (uri) => diagnosticsOf(analysisOf(uri), uri, related, spell),
      versionOf: (uri) => documents.get(spell(uri))?.version,
    };
  });

  connection.onDidChangeConfiguration(() => questions.touched());
  connection.onInitialized(() => {
    // Whoever can watch is asked to; others say by themselves what changed, or nothing.
    if (watches) void connection.client.register(DidChangeWatchedFilesNotification.type, { watchers: [{ globPattern: "**/*.{tappet,csv,tsv,txt,log}" }] });
    if (!moves) return;
    connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
      const gone = new Set(removed.map((f) => f.uri));
      folders = [...folders.filter((uri) => !gone.has(uri)), ...added.map((f) => f.uri)];
      machine.setRoots(folders);
      // What was outside may now be inside, and the other way round: everything that is not open is looked for again.
      const open = workspace.forgetUnopened();
      listed = false;
      everListed = false;
      questions.touched();
      void guard(() => tell(open), undefined);
      recordings.wanted();
    });
  });

  /** With every recording read as well: for what is kept, not for what is looked at. */
  const complete = async () => {
    await recordings.heard();
    return settled();
  };
  const recordings = hearRecordings(connection, workspace, {
    host: machine.host, settled, guard,
    async tell(uris) {
      questions.touched();
      const open = uris.filter((uri) => workspace.isOpen(uri));
      if (open.length > 0) await tell(open);
      else if (refreshes) connection.languages.diagnostics.refresh();
    },
  });

  documents.onDidChangeContent(({ document }) => {
    const uri = canonicalUri(document.uri);
    spellings.set(uri, document.uri);
    workspace.setText(uri, document.getText());
    questions.touched();
    void guard(() => tell(openUsersOf(uri), uri), undefined);
    recordings.wanted();
  });
  documents.onDidClose(({ document }) => {
    const uri = canonicalUri(document.uri);
    spellings.delete(uri);
    lastSheets.delete(uri);
    workspace.close(uri);
    questions.touched();
    if (!pulls) void connection.sendDiagnostics({ uri: document.uri, diagnostics: [] });
    void guard(() => tell(openUsersOf(uri)), undefined);
  });
  connection.onDidChangeWatchedFiles(({ changes }) => {
    const uris = changes.map((change) => canonicalUri(change.uri));
    for (const uri of uris) workspace.forget(uri);
    if (changes.some(({ type }) => type !== FileChangeType.Changed)) listed = false;
    questions.touched();
    const touched = new Set(uris.flatMap(openUsersOf));
    if (touched.size > 0) void guard(() => tell([...touched]), undefined);
    recordings.wanted();
  });

  connection.languages.diagnostics.on((params) =>
    guard<DocumentDiagnosticReport>(async () => {
      const uri = canonicalUri(params.textDocument.uri);
      const items = await findingsOf(uri);
      const resultId = names.nameOf(uri, items);
      return resultId === params.previousResultId ? { kind: DocumentDiagnosticReportKind.Unchanged, resultId } : { kind: DocumentDiagnosticReportKind.Full, resultId, items };
    }, { kind: DocumentDiagnosticReportKind.Full, items: [] }),
  );

  connection.onHover(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      const hover = hoverAt(analysis, uri, lines.offset(position), spell);
      return hover ? { contents: { kind: "markdown" as const, value: hover.markdown }, range: lines.range(hover.span) } : null;
    }, null),
  );

  connection.onCompletion(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      const offset = lines.offset(position);
      const paths = await pathsAt(analysis, uri, offset, { folder: async (at) => (await machine.host.folder?.(at)) ?? { entries: [] }, whole: async () => (await known()).project });
      return (paths ?? completionsAt(analysis, uri, offset, await known())).map((c) => completionItemOf(lines, c, snippets));
    }, []),
  );

  connection.onDefinition(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      return definitionsAt(analysis, uri, linesOf(analysis, uri).offset(position)).map((t) => ({ uri: spell(t.uri), range: linesOf(analysis, t.uri).range(t.span) }));
    }, []),
  );

  connection.onDocumentSymbol(({ textDocument }) =>
    guard(() => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = workspace.analysis(machine.today());
      const file = analysis.project.files.get(uri);
      return file ? outlineOf(file).map((item) => symbolOf(linesOf(analysis, uri), item)) : [];
    }, []),
  );

  connection.onDocumentFormatting(({ textDocument }) =>
    guard(() => {
      // Formatting waits for nothing: the text alone decides.
      const uri = canonicalUri(textDocument.uri);
      const text = documents.get(textDocument.uri)?.getText();
      if (text === undefined) return [];
      const after = format(readSource(uri, text, workspace.analysis(machine.today()).project.files.get(uri)?.source));
      return after === text ? [] : [{ range: linesOfText(text).range({ start: 0, end: text.length }), newText: after }];
    }, []),
  );

  const trials = answerTrials(connection, { settled, guard, spell });
  const sheetNow = (analysis: Analysis, question: SheetQuestion) => {
    const trial = trials.current(analysis);
    return trial.length > 0 ? triedSheetFor(analysis, question, spell, trial) : sheetFor(analysis, question, spell, lastSheets);
  };

  // The client's own questions come from a page as well: what does not have their form is answered with nothing.
  connection.onRequest("tappet/sheet", (question: unknown) => guard<SheetAnswer | null>(async () => (isSheetQuestion(question) ? sheetNow(await settled(), own(question)) : null), null));
  connection.onRequest("tappet/export", (question: unknown) =>
    guard<string | null>(async () => (isSheetQuestion(question) && ["html", "markdown", "json"].includes((question as ExportQuestion).format) ? exportFor(await complete(), own(question as ExportQuestion)) : null), null),
  );
  // A revision never changes: its files are read once for as long as it is looked at.
  const revisions = new Map<string, Promise<Project>>();
  const atRevision = (ref: string, uri: string): Promise<Project> => {
    const key = `${ref} ${uri}`;
    const known = revisions.get(key);
    if (known) return known;
    if (revisions.size >= MOST_REVISIONS) revisions.clear();
    const project = loadProject(revisionHost(connection, ref), [uri]);
    revisions.set(key, project);
    return project;
  };
  connection.onRequest("tappet/compare", (question: unknown) =>
    guard<SheetAnswer | null>(async () => {
      if (!isCompareQuestion(question)) return null;
      const against = { ...question.against, uri: canonicalUri(question.against.uri) };
      const before = await atRevision(against.ref, against.uri);
      return comparisonFor(await settled(), before, { ...own(question), against }, spell);
    }, null),
  );
  connection.onRequest("tappet/fix", (question: unknown) =>
    guard(async () => {
      if (!isSheetQuestion(question)) return null;
      const analysis = await settled();
      return workspaceEditOf(analysis, sheetFix(analysis, own(question as FixQuestion)), spell);
    }, null),
  );

  const answering: Answering = {
    settled, guard, spell, now: () => workspace.analysis(machine.today()), whole, known,
  };
  answerFurther(connection, answering);
  answerChains(connection, answering);
  answerActions(connection, answering, () => ({ ...acting, related }));

  documents.listen(connection);
  connection.listen();
}

/** Watching more costs the client more than it is worth. */
const MOST_WATCHED = 200;

function decodedName(name: string): string {
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}

function own<Q extends SheetQuestion>(question: Q): Q {
  return { ...question, uri: canonicalUri(question.uri) };
}

/** Revisions whose files are kept at hand. */
const MOST_REVISIONS = 4;

function isCompareQuestion(x: unknown): x is CompareQuestion {
  if (!isSheetQuestion(x) || !("against" in x) || typeof x.against !== "object" || x.against === null) return false;
  const { ref, label, uri } = x.against as Record<string, unknown>;
  return typeof ref === "string" && /^[0-9a-f]{7,64}$/.test(ref) && typeof label === "string" && typeof uri === "string" && "back" in x && typeof x.back === "string";
}

function isSheetQuestion(x: unknown): x is SheetQuestion {
  return typeof x === "object" && x !== null && "uri" in x && typeof x.uri === "string";
}
