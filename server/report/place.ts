// Turns lasting locations into file, line and column for people and programs. The only place of this floor that counts lines.
import { type Position, lineStartsOf, positionAt } from "../../grammar/source-file.ts";
import type { Location } from "../model/declaration.ts";
import type { Places, Project } from "../model/project.ts";

/** Lines and columns count from one; columns in UTF-16 code units, as editors count them. */
export interface Point {
  readonly line: number;
  readonly column: number;
}

export interface Range {
  readonly start: Point;
  readonly end: Point;
}

export interface Place {
  readonly uri: string;
  /** The file as the reader is to be told of it. */
  readonly file: string;
  readonly range: Range;
}

/** How a file is called: relative to where the reader stands, with forward slashes. */
export type NameOf = (uri: string) => string;

export interface Atlas {
  /** Absent for a location whose declaration is in no file of the project. */
  placeOf(location: Location): Place | undefined;
  nameOf: NameOf;
  /** A line of a file, without its end. Lines count from one. */
  lineOf(uri: string, line: number): string;
}

/** `spell` is how the reader writes a URI, where that is not how the project does. */
export function atlasOf(project: Project, places: Places, nameOf: NameOf, spell?: (uri: string) => string): Atlas {
  const linesOf = (uri: string) => {
    const source = project.files.get(uri)?.source;
    return source && { text: source.text, starts: lineStartsOf(source) };
  };
  return atlasOver(places, linesOf, nameOf, spell);
}

/** Over texts of which each says where its lines start. */
export function atlasOver(places: Places, linesOf: (uri: string) => { readonly text: string; readonly starts: readonly number[] } | undefined, nameOf: NameOf, spell: (uri: string) => string = (uri) => uri): Atlas {
  return {
    nameOf,
    placeOf(location) {
      const placed = places.placeOf(location.tree);
      if (!placed) return undefined;
      const lines = linesOf(placed.uri)?.starts ?? [0];
      const at = (offset: number) => pointOf(positionAt(lines, placed.start + offset));
      return { uri: spell(placed.uri), file: nameOf(placed.uri), range: { start: at(location.span.start), end: at(location.span.end) } };
    },
    lineOf(uri, line) {
      const { text, starts } = linesOf(uri) ?? { text: "", starts: [0] };
      return text.slice(starts[line - 1] ?? text.length, starts[line] ?? text.length).replace(/(?<![\r\n])[\r\n]+$/, "");
    },
  };
}

function pointOf(position: Position): Point {
  return { line: position.line + 1, column: position.character + 1 };
}

/** `engines/dunlin-18.tappet:12:5`. */
export function pointWords(place: Place): string {
  return `${place.file}:${place.range.start.line}:${place.range.start.column}`;
}

/** `engines/dunlin-18.tappet:12`. */
export function lineWords(place: Place): string {
  return `${place.file}:${place.range.start.line}`;
}
