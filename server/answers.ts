// The language server's further answers: names across files, folding, links, colours, hints, lenses, signatures. Wiring only, as service.ts.
import {
  type Connection, type DocumentLink, type FoldingRange, FoldingRangeKind, type InlayHint, ResponseError, type SelectionRange, SemanticTokensBuilder, type ServerCapabilities, SymbolKind,
  type WorkspaceSymbol,
} from "vscode-languageserver";
import { COLOR_SORTS, coloringOf } from "./editor/coloring.ts";
import { foldsOf, growingAt } from "./editor/folding.ts";
import { hintsOf } from "./editor/hints.ts";
import { lensesOf, verdictAt } from "./editor/lens.ts";
import { editsForMoves, linksOf } from "./editor/links.ts";
import { namedAt, occurrencesOf, renameTo } from "./editor/names.ts";
import { editsOnType } from "./editor/on-type.ts";
import { type Spell, linesOf, linesOfText, workspaceEditOf } from "./editor/protocol.ts";
import { signatureAt } from "./editor/signature.ts";
import { canonicalUri, isNamed } from "./model/project.ts";
import type { Analysis } from "./workspace/analyse.ts";

export interface Answering {
  /** The open documents with everything they use. */
  settled(): Promise<Analysis>;
  /** Every file of the opened folders. */
  whole(): Promise<Analysis>;
  /** The same as it was last listed, for what is asked at every key. */
  known(): Promise<Analysis>;
  /** Of the open documents, without waiting for anything to be read. */
  now(): Analysis;
  guard<T>(work: () => Promise<T> | T, otherwise: T): Promise<T>;
  spell: Spell;
}

export const FURTHER: ServerCapabilities = {
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  workspaceSymbolProvider: true,
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  documentLinkProvider: { resolveProvider: false },
  semanticTokensProvider: { legend: { tokenTypes: [...COLOR_SORTS], tokenModifiers: ["declaration"] }, full: { delta: true }, range: true },
  inlayHintProvider: { resolveProvider: false },
  codeLensProvider: { resolveProvider: false },
  documentOnTypeFormattingProvider: { firstTriggerCharacter: "|", moreTriggerCharacter: ["\n"] },
  linkedEditingRangeProvider: true,
  signatureHelpProvider: { triggerCharacters: [" "], retriggerCharacters: [" "] },
};

/** Files that a client tells the server of before they get a new name. */
export const MOVES = { filters: [{ scheme: "file", pattern: { glob: "**/*", matches: "file" as const } }] };

export function answerFurther(connection: Connection, { settled, whole, known, now, guard, spell }: Answering): void {
  connection.onReferences(({ textDocument, position, context }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await whole();
      const named = namedAt(analysis, uri, linesOf(analysis, uri).offset(position));
      if (!named) return [];
      return occurrencesOf(analysis, named.target).filter((o) => context.includeDeclaration || !o.declares).map((o) => ({ uri: spell(o.uri), range: linesOf(analysis, o.uri).range(o.span) }));
    }, []),
  );

  connection.onDocumentHighlight(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      const named = namedAt(analysis, uri, lines.offset(position));
      return named ? occurrencesOf(analysis, named.target).filter((o) => o.uri === uri).map((o) => ({ range: lines.range(o.span), kind: o.declares ? 3 : 2 })) : [];
    }, []),
  );

  connection.onDocumentOnTypeFormatting(({ textDocument, position, ch }) =>
    guard(() => {
      // The text alone decides, so that a key is answered at once.
      const text = now().project.files.get(canonicalUri(textDocument.uri))?.source.text ?? "";
      const lines = linesOfText(text);
      return editsOnType(text, lines.offset(position), ch).map((edit) => ({ range: lines.range(edit.span), newText: edit.text }));
    }, []),
  );

  // A name is edited in all its places at once only where all of them are in sight.
  connection.languages.onLinkedEditingRange(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await known();
      const lines = linesOf(analysis, uri);
      const named = namedAt(analysis, uri, lines.offset(position));
      const places = named ? occurrencesOf(analysis, named.target) : [];
      if (places.length < 2 || places.some((place) => place.uri !== uri)) return null;
      return { ranges: places.map(({ span }) => lines.range(span)), wordPattern: "[\\w\\u00c0-\\u024f][\\w\\u00c0-\\u024f-]*" };
    }, null),
  );

  connection.onPrepareRename(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await whole();
      const lines = linesOf(analysis, uri);
      const named = namedAt(analysis, uri, lines.offset(position));
      return named?.target.declaration.name ? { range: lines.range(named.span), placeholder: named.target.declaration.name.text } : null;
    }, null),
  );

  connection.onRenameRequest(async ({ textDocument, position, newName }) => {
    const answer = await guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await whole();
      const named = namedAt(analysis, uri, linesOf(analysis, uri).offset(position));
      if (!named) return { refusal: "There is no name here that could be changed." };
      const edits = renameTo(analysis, named.target, newName.trim());
      return "refusal" in edits ? edits : workspaceEditOf(analysis, edits, spell);
    }, null);
    // A client shows the refusal of a rename as it stands.
    if (answer && "refusal" in answer) throw new ResponseError(-32803, answer.refusal);
    return answer;
  });

  connection.onWorkspaceSymbol(({ query }) =>
    guard(async () => {
      const analysis = await whole();
      const wanted = query.toLowerCase();
      const out: WorkspaceSymbol[] = [];
      for (const file of analysis.project.files.values())
        file.declarations.forEach((d, i) => {
          if (!d.name || !isNamed(d.sort) || out.length >= MOST_SYMBOLS) return;
          if (!`${d.name.text} ${d.title ?? ""}`.toLowerCase().includes(wanted)) return;
          const start = file.source.declarations[i]?.start ?? 0;
          out.push({ name: d.name.text, kind: SymbolKind.Class, containerName: [d.kindName?.text ?? d.sort, d.title ?? ""].filter((t) => t !== "").join(" "), location: { uri: spell(file.uri), range: linesOf(analysis, file.uri).range({ start: d.name.span.start + start, end: d.name.span.end + start }) } });
        });
      return out;
    }, []),
  );

  connection.onFoldingRanges(({ textDocument }) =>
    guard(() => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = now();
      const file = analysis.project.files.get(uri);
      const lines = linesOf(analysis, uri);
      return (file ? foldsOf(file) : []).flatMap((fold): FoldingRange[] => {
        const { start, end } = lines.range(fold.span);
        // The closing brace stays in sight under what it closes.
        const endLine = fold.sort === "block" ? end.line - 1 : end.line;
        return endLine > start.line ? [{ startLine: start.line, endLine, ...(fold.sort === "comment" && { kind: FoldingRangeKind.Comment }) }] : [];
      });
    }, []),
  );

  connection.onSelectionRanges(({ textDocument, positions }) =>
    guard(() => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = now();
      const lines = linesOf(analysis, uri);
      return positions.map((position): SelectionRange => {
        const spans = growingAt(analysis, uri, lines.offset(position));
        let range: SelectionRange = { range: lines.range(spans[spans.length - 1] ?? { start: 0, end: 0 }) };
        for (let i = spans.length - 2; i >= 0; i--) range = { range: lines.range(spans[i] as { start: number; end: number }), parent: range };
        return range;
      });
    }, []),
  );

  connection.onDocumentLinks(({ textDocument }) =>
    guard(() => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = now();
      const file = analysis.project.files.get(uri);
      const lines = linesOf(analysis, uri);
      return (file ? linksOf(file) : []).map((link): DocumentLink => ({ range: lines.range(link.span), target: spell(link.target), tooltip: link.words }));
    }, []),
  );

  const builders = new Map<string, SemanticTokensBuilder>();
  const colors = (uri: string, within: { start: number; end: number }, builder: SemanticTokensBuilder) => {
    const analysis = now();
    const file = analysis.project.files.get(uri);
    const lines = linesOf(analysis, uri);
    for (const { span, sort, declares } of file ? coloringOf(file) : []) {
      if (span.end <= within.start || span.start >= within.end) continue;
      const { start, end } = lines.range(span);
      // A token lies on one line: an unclosed string ends with its line already.
      if (end.line === start.line) builder.push(start.line, start.character, span.end - span.start, COLOR_SORTS.indexOf(sort), declares ? 1 : 0);
    }
  };
  const everything = { start: 0, end: Number.POSITIVE_INFINITY };
  connection.languages.semanticTokens.on(({ textDocument }) =>
    guard(() => {
      const uri = canonicalUri(textDocument.uri);
      const builder = new SemanticTokensBuilder();
      builders.set(uri, builder);
      colors(uri, everything, builder);
      return builder.build();
    }, { data: [] }),
  );
  connection.languages.semanticTokens.onDelta(({ textDocument, previousResultId }) =>
    guard(() => {
      const uri = canonicalUri(textDocument.uri);
      const builder = builders.get(uri) ?? new SemanticTokensBuilder();
      builders.set(uri, builder);
      builder.previousResult(previousResultId);
      colors(uri, everything, builder);
      return builder.buildEdits();
    }, { data: [] }),
  );
  connection.languages.semanticTokens.onRange(({ textDocument, range }) =>
    guard(() => {
      const uri = canonicalUri(textDocument.uri);
      const lines = linesOf(now(), uri);
      const builder = new SemanticTokensBuilder();
      colors(uri, { start: lines.offset(range.start), end: lines.offset(range.end) }, builder);
      return builder.build();
    }, { data: [] }),
  );

  connection.languages.inlayHint.on(({ textDocument, range }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      // What is shown is the client's choice: it filters by the tooltip's first word, the server has no settings of its own.
      return hintsOf(analysis, uri, { start: lines.offset(range.start), end: lines.offset(range.end) }).map((hint): InlayHint => ({
        position: lines.range({ start: hint.at, end: hint.at }).start, label: hint.text, paddingLeft: true, data: { sort: hint.sort },
        tooltip: hint.sort === "other-unit" ? "The same figure in the other system." : "What this setting comes to.",
      }));
    }, []),
  );

  connection.onCodeLens(({ textDocument }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      const lines = linesOf(analysis, uri);
      return lensesOf(analysis, uri).map((lens) => ({ range: lines.range({ start: lens.at, end: lens.at }), command: { title: lens.text, command: "tappet.showSheet", arguments: [textDocument.uri, lens.build] } }));
    }, []),
  );

  connection.onSignatureHelp(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      const signature = signatureAt(analysis, uri, linesOf(analysis, uri).offset(position));
      if (!signature) return null;
      return {
        signatures: [{ label: signature.label, documentation: signature.words, parameters: signature.parts.map((p) => ({ label: [p.start, p.end] as [number, number], documentation: p.words })) }],
        activeSignature: 0, activeParameter: signature.active,
      };
    }, null),
  );

  // The verdict on the build that a line belongs to, else on the file's first one.
  connection.onRequest("tappet/verdict", (question: unknown) =>
    guard(async () => {
      if (typeof question !== "object" || question === null || !("uri" in question) || typeof question.uri !== "string") return null;
      const uri = canonicalUri(question.uri);
      const line = "line" in question && typeof question.line === "number" ? question.line : 0;
      const analysis = await settled();
      return verdictAt(analysis, uri, linesOf(analysis, uri).offset({ line, character: 0 }));
    }, null),
  );

  connection.workspace.onWillRenameFiles(({ files }) =>
    guard(async () => {
      const analysis = await whole();
      const edits = editsForMoves(analysis, files.map((f) => ({ from: f.oldUri, to: f.newUri })));
      return edits.length > 0 ? workspaceEditOf(analysis, edits, spell) : null;
    }, null),
  );
}

const MOST_SYMBOLS = 500;
