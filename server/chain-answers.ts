// The chain behind a figure as a client can walk it: as a hierarchy, as declaration and implementation, and as a list. Wiring only, as service.ts.
import { type Connection, SymbolKind, type ServerCapabilities, type TypeHierarchyItem } from "vscode-languageserver";
import type { Answering } from "./answers.ts";
import { type ChainLink, besideInChain, chainAt, figureAt } from "./editor/chain.ts";
import { linesOf } from "./editor/protocol.ts";
import { canonicalUri } from "./model/project.ts";
import type { Analysis } from "./workspace/analyse.ts";
import type { Position, Range } from "vscode-languageserver";

export const CHAINS: ServerCapabilities = { typeHierarchyProvider: true, declarationProvider: true, implementationProvider: true };

/** One link for a client that lists the chain, newest first. */
export interface ChainAnswer {
  readonly uri: string;
  readonly range: Range;
  readonly value: string;
  readonly words: string;
  readonly fate: ChainLink["fate"];
}

export function answerChains(connection: Connection, { settled, whole, guard, spell }: Answering): void {
  const itemOf = (analysis: Analysis, link: ChainLink): TypeHierarchyItem => {
    const range = linesOf(analysis, link.uri).range(link.span);
    return { name: `${link.name}: ${link.value}`, detail: link.words, kind: SymbolKind.Property, uri: spell(link.uri), range, selectionRange: range };
  };

  connection.languages.typeHierarchy.onPrepare(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await whole();
      const figure = figureAt(analysis, uri, linesOf(analysis, uri).offset(position));
      return figure ? [itemOf(analysis, figure)] : null;
    }, null),
  );
  const beside = (toward: "older" | "newer") => ({ item }: { readonly item: TypeHierarchyItem }) =>
    guard(async () => {
      const uri = canonicalUri(item.uri);
      const analysis = await whole();
      return besideInChain(analysis, uri, linesOf(analysis, uri).offset(item.selectionRange.start), toward).map((link) => itemOf(analysis, link));
    }, null);
  // Above a figure stands what it took the place of, below it what took its place.
  connection.languages.typeHierarchy.onSupertypes(beside("older"));
  connection.languages.typeHierarchy.onSubtypes(beside("newer"));

  const locations = (analysis: Analysis, links: readonly ChainLink[]) => links.map((link) => ({ uri: spell(link.uri), range: linesOf(analysis, link.uri).range(link.span) }));
  connection.onDeclaration(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await settled();
      return locations(analysis, chainAt(analysis, uri, linesOf(analysis, uri).offset(position)).slice(0, 1));
    }, []),
  );
  connection.onImplementation(({ textDocument, position }) =>
    guard(async () => {
      const uri = canonicalUri(textDocument.uri);
      const analysis = await whole();
      return locations(analysis, besideInChain(analysis, uri, linesOf(analysis, uri).offset(position), "newer"));
    }, []),
  );

  connection.onRequest("tappet/chain", (question: unknown) =>
    guard<readonly ChainAnswer[]>(async () => {
      if (!isPlace(question)) return [];
      const uri = canonicalUri(question.uri);
      const analysis = await settled();
      return chainAt(analysis, uri, linesOf(analysis, uri).offset(question.position)).reverse().map(({ uri: at, span, value, words, fate }) => ({ uri: spell(at), range: linesOf(analysis, at).range(span), value, words, fate }));
    }, []),
  );
}

function isPlace(x: unknown): x is { readonly uri: string; readonly position: Position } {
  if (typeof x !== "object" || x === null || !("uri" in x) || typeof x.uri !== "string" || !("position" in x)) return false;
  const at: unknown = x.position;
  return typeof at === "object" && at !== null && "line" in at && typeof at.line === "number" && "character" in at && typeof at.character === "number";
}
