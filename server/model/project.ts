// Files and the names they declare: what a file can see through `use`, and which declaration a name means. Knows no figures.
import type { SourceFile } from "../../grammar/source-file.ts";
import type { DeclarationTree } from "../../grammar/tree.ts";
import type { Text } from "../../grammar/tree.ts";
import type { Outcome } from "../recording/summary.ts";
import type { Declaration, Location, Sort } from "./declaration.ts";

export interface ProjectFile {
  readonly uri: string;
  readonly source: SourceFile;
  /** One for each of the source's declarations, in order. */
  readonly declarations: readonly Declaration[];
}

/** Why a file that something uses could not be read. */
export type Unreadable = "missing" | "outside" | "not-text" | "too-large" | "unreadable";

/**
 * A file that a declaration names and that is none of its kind: the print of what is in it, and its text where figures are taken from it; or
 * why it could not be read. The same object for as long as nothing about it changed.
 */
export type DataFile = { readonly print: string; readonly text?: string } | { readonly problem: Unreadable };

/** Every file known, immutable. */
export interface Project {
  readonly files: ReadonlyMap<string, ProjectFile>;
  readonly unreadable: ReadonlyMap<string, Unreadable>;
  /** Files of tunes and of figures by URI, those that were looked for. */
  readonly data?: ReadonlyMap<string, DataFile>;
  /** What recordings came to, by the key of the file and of what was asked of it. What is not here has not been read. */
  readonly recordings?: ReadonlyMap<string, Outcome>;
}

export interface PlacedDeclaration {
  readonly uri: string;
  readonly declaration: Declaration;
}

/** What one file sees: itself and everything it uses, directly or through others. */
export interface Scope {
  /** In order of first use, the file itself first. */
  readonly files: readonly ProjectFile[];
  readonly engines: ReadonlyMap<string, readonly PlacedDeclaration[]>;
  readonly parts: ReadonlyMap<string, readonly PlacedDeclaration[]>;
  readonly cards: ReadonlyMap<string, readonly PlacedDeclaration[]>;
  readonly builds: ReadonlyMap<string, readonly PlacedDeclaration[]>;
  readonly shops: readonly PlacedDeclaration[];
  /** The file that a path inside a declaration names, where it was looked for. */
  data(declaration: Declaration, path: string): DataFile | undefined;
}

/** The URI that `use "path"` means in a file: relative to it, with `.` and `..` resolved. Absolute paths and schemes stay as written. */
export function resolveUse(fromUri: string, path: string): string {
  const plain = path.replaceAll("\\", "/");
  if (/^[a-z][a-z0-9+.-]+:/i.test(plain)) return plain;
  const match = /^([a-z][a-z0-9+.-]*:\/\/[^/]*)?([^]*)$/i.exec(fromUri);
  const prefix = match?.[1] ?? "";
  const from = match?.[2] ?? fromUri;
  const encoded = plain.split("/").map(encodedStep).join("/");
  const joined = plain.startsWith("/") ? encoded : `${from.slice(0, from.lastIndexOf("/") + 1)}${encoded}`;
  const out: string[] = [];
  for (const segment of joined.split("/")) {
    if (segment === "." || (segment === "" && out.length > 0)) continue;
    if (segment === ".." && out.length > 0 && out[out.length - 1] !== ".." && out[out.length - 1] !== "") out.pop();
    else if (segment === ".." && out[0] === "") continue;
    else out.push(segment);
  }
  return prefix + out.join("/");
}

/**
 * The one spelling of a URI under which a file is known: clients differ in which characters of a path they write as %xx. What cannot be
 * decoded stays as it is.
 */
export function canonicalUri(uri: string): string {
  const match = /^([a-z][a-z0-9+.-]*:(?:\/\/[^/]*)?)([^?#]*)([^]*)$/i.exec(uri);
  if (!match) return uri;
  const [, head = "", path = "", rest = ""] = match;
  try {
    return head + path.split("/").map((step) => encodedStep(decodeURIComponent(step))).join("/") + rest;
  } catch {
    return uri;
  }
}

function encodedStep(step: string): string {
  return encodeURIComponent(step.toWellFormed()).replaceAll("%2B", "+").replaceAll("%40", "@");
}

/** The files that a file uses, with the statement that names each. */
export function usesOf(file: ProjectFile): readonly Use[] {
  let known = usedBy.get(file);
  if (!known) usedBy.set(file, (known = file.declarations.flatMap((declaration) => (declaration.path ? [{ uri: resolveUse(file.uri, declaration.path.text), declaration }] : []))));
  return known;
}

export interface Use {
  readonly uri: string;
  readonly declaration: Declaration;
}

const usedBy = new WeakMap<ProjectFile, readonly Use[]>();

/** The tune files and the files of figures that a declaration names, as written and as found from the file that it stands in. */
export function dataOf(uri: string, declaration: Declaration): { readonly uri: string; readonly path: string }[] {
  const tunes = declaration.records.flatMap((record) => {
    const file = record.word === "tune" ? record.head.find((part) => part.kind === "string") : undefined;
    return file?.kind === "string" && file.text !== "" ? [{ uri: resolveUse(uri, file.text), path: file.text }] : [];
  });
  return [...tunes, ...figuresNamedBy(declaration).map(({ text }) => ({ uri: resolveUse(uri, text), path: text }))];
}

const namedData = new WeakMap<ProjectFile, readonly string[]>();

/** URIs of the tune files and files of figures that a file names. */
export function dataOfFile(file: ProjectFile): readonly string[] {
  let known = namedData.get(file);
  if (!known) {
    known = file.declarations.flatMap((declaration) => dataOf(file.uri, declaration).map((d) => d.uri));
    namedData.set(file, known);
  }
  return known;
}

const NO_FIGURES: readonly Text[] = [];
const namedFigures = new WeakMap<Declaration, readonly Text[]>();

/** The files of figures that a declaration names: lobes in files of their own. */
export function figuresNamedBy(declaration: Declaration): readonly Text[] {
  let known = namedFigures.get(declaration);
  if (!known) {
    const figures = [declaration.figures, ...declaration.fits.map((fit) => fit.inline?.figures ?? [])].flat();
    known = figures.flatMap(({ value }) => (value.is === "file" ? [value.path] : []));
    namedFigures.set(declaration, known.length > 0 ? known : NO_FIGURES);
  }
  return known;
}

/** The files of figures that a file names, each with the place that names it. */
export function figuresOf(file: ProjectFile): readonly { readonly uri: string; readonly path: Text; readonly declaration: Declaration }[] {
  return file.declarations.flatMap((declaration) => figuresNamedBy(declaration).map((path) => ({ uri: resolveUse(file.uri, path.text), path, declaration })));
}

/** The files that a file sees: itself first, then those it uses, directly or through others. Circles are followed once. */
export function filesSeenFrom(project: Project, uri: string): readonly ProjectFile[] {
  const files: ProjectFile[] = [];
  const seen = new Set<string>();
  const queue = [uri];
  for (let i = 0; i < queue.length; i++) {
    const next = queue[i] as string;
    if (seen.has(next)) continue;
    seen.add(next);
    const file = project.files.get(next);
    if (!file) continue;
    files.push(file);
    for (const use of usesOf(file)) queue.push(use.uri);
  }
  return files;
}

/** Everything that a file sees. */
export function scopeOf(project: Project, uri: string): Scope {
  const files = filesSeenFrom(project, uri);
  const named: Record<"engine" | "part" | "card" | "build", Map<string, PlacedDeclaration[]>> = { engine: new Map(), part: new Map(), card: new Map(), build: new Map() };
  const shops: PlacedDeclaration[] = [];
  for (const file of files)
    for (const declaration of file.declarations) {
      const placed = { uri: file.uri, declaration };
      if (declaration.sort === "shop") shops.push(placed);
      const map = isNamed(declaration.sort) ? named[declaration.sort] : undefined;
      if (!map || !declaration.name) continue;
      const list = map.get(declaration.name.text);
      if (list) list.push(placed);
      else map.set(declaration.name.text, [placed]);
    }
  const data = (declaration: Declaration, path: string): DataFile | undefined => {
    const home = homes.get(declaration.tree);
    return home === undefined ? undefined : project.data?.get(resolveUse(home, path));
  };
  return { files, engines: named.engine, parts: named.part, cards: named.card, builds: named.build, shops, data };
}

export function isNamed(sort: Sort): sort is "engine" | "part" | "card" | "build" {
  return sort === "engine" || sort === "part" || sort === "card" || sort === "build";
}

/** The declarations of a sort that a scope knows by name. */
export function namesOf(scope: Scope, sort: "engine" | "part" | "card" | "build"): ReadonlyMap<string, readonly PlacedDeclaration[]> {
  return sort === "engine" ? scope.engines : sort === "part" ? scope.parts : sort === "card" ? scope.cards : scope.builds;
}

/** Where each tree lies now: the only place that turns a lasting location into a file and an offset. */
export interface Places {
  placeOf(tree: DeclarationTree): { readonly uri: string; readonly start: number } | undefined;
}

/** The file that each tree was read for. A tree belongs to one file. */
const homes = new WeakMap<DeclarationTree, string>();
const startsByFile = new WeakMap<ProjectFile, ReadonlyMap<DeclarationTree, number>>();

/** Notes which file its trees were read for, so that they can be found again without a search. */
export function noteHome(file: ProjectFile): void {
  for (const { tree } of file.source.declarations) if (homes.get(tree) !== file.uri) homes.set(tree, file.uri);
}

/** Finds trees in a project; a file is indexed the first time one of its trees is asked for. */
export function placesOf(project: Project): Places {
  const startsOf = (file: ProjectFile) => {
    let starts = startsByFile.get(file);
    if (!starts) {
      starts = new Map(file.source.declarations.map((d) => [d.tree, d.start]));
      startsByFile.set(file, starts);
    }
    return starts;
  };
  return {
    placeOf(tree) {
      const home = homes.get(tree);
      const file = home === undefined ? undefined : project.files.get(home);
      const start = file && startsOf(file).get(tree);
      return file && start !== undefined ? { uri: file.uri, start } : undefined;
    },
  };
}

export function locationOf(declaration: Declaration, span = declaration.name?.span ?? declaration.wordSpan): Location {
  return { tree: declaration.tree, span };
}
