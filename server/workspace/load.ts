// Files and everything they use, read through a host into a project. Knows no disk and no meaning beyond which file a `use` names.
import { readSource } from "../../grammar/read.ts";
import type { SourceFile } from "../../grammar/source-file.ts";
import type { DeclarationTree } from "../../grammar/tree.ts";
import type { Declaration } from "../model/declaration.ts";
import { lower } from "../model/lower.ts";
import { printOfBytes, printOfText } from "../model/print.ts";
import { type DataFile, type Project, type ProjectFile, type Unreadable, dataOfFile, figuresOf, noteHome, usesOf } from "../model/project.ts";
import type { Host, Reading } from "./host.ts";
import { succeeds } from "./succession.ts";

const lowered = new WeakMap<DeclarationTree, Declaration>();

/** The declaration of a tree, lowered once for as long as the tree lives. */
export function declarationOf(tree: DeclarationTree): Declaration {
  const known = lowered.get(tree);
  if (known) return known;
  const declaration = lower(tree);
  lowered.set(tree, declaration);
  return declaration;
}

/** A read file with its declarations. `previous` is returned where nothing changed. */
export function projectFileOf(source: SourceFile, previous?: ProjectFile): ProjectFile {
  if (previous?.source === source) return previous;
  const file: ProjectFile = { uri: source.uri, source, declarations: source.declarations.map(({ tree }) => declarationOf(tree)) };
  if (previous && previous.declarations.length === file.declarations.length)
    for (const [i, declaration] of file.declarations.entries()) {
      const before = previous.declarations[i];
      if (before && before !== declaration) succeeds(declaration, before);
    }
  noteHome(file);
  return file;
}

/** Reading more at a time gains nothing and may use up the file handles that a process is given. */
const MOST_AT_ONCE = 32;

/**
 * Reads these files and whatever they use, directly or through others. Circles are read once. What cannot be read stands in
 * `unreadable`, whether it was asked for or used; files of figures that declarations name are read beside them.
 */
export async function loadProject(host: Host, uris: readonly string[]): Promise<Project> {
  const files = new Map<string, ProjectFile>();
  const unreadable = new Map<string, Unreadable>();
  const seen = new Set<string>(uris);
  const queue = [...seen];
  while (queue.length > 0) {
    const wave = queue.splice(0, MOST_AT_ONCE);
    const readings = await Promise.all(wave.map(async (uri) => ({ uri, reading: await host.read(uri) })));
    for (const { uri, reading } of readings) {
      if ("problem" in reading) {
        unreadable.set(uri, reading.problem);
        continue;
      }
      const file = projectFileOf(readSource(uri, reading.text));
      files.set(uri, file);
      for (const use of usesOf(file)) {
        if (seen.has(use.uri)) continue;
        seen.add(use.uri);
        queue.push(use.uri);
      }
    }
  }
  const figures = new Set([...files.values()].flatMap((file) => figuresOf(file).map((f) => f.uri)));
  return { files, unreadable, data: await loadData(host, [...files.values()].flatMap(dataOfFile), figures) };
}

/** The texts of these files, a few read at a time, or why there are none. */
export async function readAll(host: Host, uris: readonly string[]): Promise<ReadonlyMap<string, Reading>> {
  const readings = new Map<string, Reading>();
  for (let i = 0; i < uris.length; i += MOST_AT_ONCE)
    for (const [uri, reading] of await Promise.all(uris.slice(i, i + MOST_AT_ONCE).map(async (uri) => [uri, await host.read(uri)] as const))) readings.set(uri, reading);
  return readings;
}

/** These files, those of figures with their text; each is read once. */
async function loadData(host: Host, uris: readonly string[], figures: ReadonlySet<string>): Promise<ReadonlyMap<string, DataFile>> {
  const data = new Map<string, DataFile>();
  const queue = [...new Set(uris)];
  while (queue.length > 0) {
    const wave = queue.splice(0, MOST_AT_ONCE);
    for (const [uri, file] of await Promise.all(wave.map(async (uri) => [uri, await dataFile(host, uri, figures.has(uri))] as const))) data.set(uri, file);
  }
  return data;
}

/** One file. The bytes are let go: only the print is kept, and the text where figures are taken from it. */
export async function dataFile(host: Host, uri: string, withText: boolean): Promise<DataFile> {
  if (withText) {
    const reading = await host.read(uri);
    return "problem" in reading ? reading : { print: printOfText(reading.text), text: reading.text };
  }
  const reading = await host.readData(uri);
  return "problem" in reading ? reading : { print: printOfBytes(reading.bytes) };
}
