// What is moved to a place of its own: a part that a build describes on the spot, to a declaration in a file of its own with the `use` that
// finds it, or above the build; and an engine, part or card that shares its file with others, to a file of its own. How a part is set stays
// with the build. Changes no figure, or is not done.
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import type { Item, Part, Phrase, Span } from "../../grammar/tree.ts";
import { RESERVED_WORDS, STATEMENT_WORDS, TOP_WORDS, unitOfSpelling } from "../../grammar/vocabulary.ts";
import type { Declaration, FitFact } from "../model/declaration.ts";
import { namesOf, usesOf } from "../model/project.ts";
import { useEdit } from "../rules/names.ts";
import type { PartKind } from "../schema/types.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { type Change, analysisAfter, leavesFigures } from "./change.ts";
import type { FileEdit } from "./fixes.ts";
import { indented, lineEndOf } from "./items.ts";
import { relativePath } from "./links.ts";
import { hereAt } from "./spot.ts";

export interface Movable {
  readonly build: Declaration;
  readonly fit: FitFact;
  readonly kind: PartKind;
  readonly name: string;
  readonly start: number;
}

/** The part described on the spot at whose head a span lies. */
export function movableAt(analysis: Analysis, uri: string, span: Span): Movable | undefined {
  const here = hereAt(analysis, uri, span.start);
  if (!here || here.declaration.sort !== "build") return undefined;
  const build = here.declaration;
  const fit = build.fits.find((f) => f.inline && f.block && here.offset >= f.span.start && here.offset <= f.block.start);
  const kind = fit?.inline?.kind;
  if (!fit || !kind || (fit.inline?.figures.length ?? 0) === 0) return undefined;
  return { build, fit, kind, name: nameFor(analysis, uri, build, fit, kind), start: here.start };
}

/** @param own a file of its own, else a declaration in the build's file. Undefined where the change would alter a figure of the build. */
export function movedOut(analysis: Analysis, uri: string, movable: Movable, own: boolean): Change | undefined {
  const { build, fit, kind, name, start } = movable;
  const file = analysis.project.files.get(uri);
  const phrase = build.tree.phrase?.block?.items.find((i): i is Phrase => i.kind === "phrase" && i.span.start === fit.span.start);
  if (!file || file.source.conflicts || !phrase?.block) return undefined;
  const text = build.tree.text;
  const eol = lineEndOf(file.source.text);
  const stays = (item: Item) => (item.kind === "entry" ? (kind.fitKeys?.some((k) => k.key === item.key.text) ?? false) : item.kind === "phrase" && !kind.blocks?.[item.word.text]);
  const words = (item: Item) => text.slice(Math.min(item.span.start, ...("docs" in item ? item.docs.map((d) => d.span.start) : [])), item.span.end);
  const moved = phrase.block.items.filter((i) => !stays(i)).map(words);
  const kept = phrase.block.items.filter(stays).map(words);
  const title = fit.inline?.title;
  const hasSource = fit.inline?.figures.some((f) => f.key.key === "source");
  const part = [
    `part ${kind.id} ${name}${title === undefined ? "" : ` "${title}"`}${build.on ? ` for ${build.on.text}` : ""} {`, ...(hasSource ? [] : ["source: …"]), ...moved, "}",
  ].join("\n");
  const head = phrase.head.filter((p) => p !== phrase.head[0] && p.kind !== "string" && !(p.kind === "word" && p.text === fit.inline?.name?.text));
  const fitted = [`fit ${name}`, ...head.map((p: Part) => text.slice(p.span.start, p.span.end)), ...(kept.length > 0 ? [`{ ${kept.join("; ")} }`] : [])].join(" ");
  const replaced: FileEdit = { uri, span: { start: phrase.span.start + start, end: phrase.span.end + start }, text: fitted };
  const change = own ? inOwnFile() : aboveBuild();
  return change && leavesFigures(analysis, analysisAfter(analysis, change), [uri]) ? change : undefined;

  function aboveBuild(): Change {
    const at = Math.min(phraseStart(build.tree.phrase), build.tree.text.length) + start;
    return { creates: [], edits: [{ uri, span: { start: at, end: at }, text: `${laidOut(part, eol)}${eol}` }, replaced] };
  }
  function inOwnFile(): Change | undefined {
    const target = fileFor(analysis, uri, name);
    const engine = build.on && analysis.scope(uri).engines.get(build.on.text)?.[0];
    // A file that uses the build's own file back would go in a circle.
    if (!target || !file || !build.on || !engine || engine.uri === uri || reaches(analysis, engine.uri, uri)) return undefined;
    const toEngine = relativePath(target, engine.uri);
    const toPart = relativePath(uri, target);
    const use = toPart === undefined ? undefined : useEdit(file, toPart);
    const place = use && analysis.places.placeOf(use.tree);
    if (toEngine === undefined || !use || !place) return undefined;
    return {
      creates: [{ uri: target, text: `use "${toEngine}"${eol}${eol}${laidOut(part, eol)}` }],
      edits: [{ uri, span: { start: use.span.start + place.start, end: use.span.end + place.start }, text: use.text.replaceAll("\n", eol) }, replaced],
    };
  }
}

export interface Separable {
  readonly declaration: Declaration;
  readonly name: string;
  readonly start: number;
}

/** The engine, part or card at whose head a span lies, where it shares its file with others. */
export function separableAt(analysis: Analysis, uri: string, span: Span): Separable | undefined {
  const here = hereAt(analysis, uri, span.start);
  const declaration = here?.declaration;
  if (!here || !declaration?.name || !["engine", "part", "card"].includes(declaration.sort) || here.offset > (declaration.tree.phrase?.block?.span.start ?? 0)) return undefined;
  return here.file.declarations.some((d) => d !== declaration && d.sort !== "use") ? { declaration, name: declaration.name.text, start: here.start } : undefined;
}

/** Undefined where what is moved names something that only its old file knows: the two would use each other in a circle. */
export function separated(analysis: Analysis, uri: string, { declaration, name, start }: Separable): Change | undefined {
  const file = analysis.project.files.get(uri);
  const target = fileBeside(analysis, uri, name);
  const { phrase, text } = declaration.tree;
  const path = target && relativePath(uri, target);
  const use = file && path !== undefined ? useEdit(file, path) : undefined;
  const place = use && analysis.places.placeOf(use.tree);
  if (!file || file.source.conflicts || target === undefined || !phrase || !use || !place) return undefined;
  const scope = analysis.scope(uri);
  const named = new Set(declaration.references.flatMap(({ of, name: { text: word } }) => (of === "file" ? [] : (namesOf(scope, of).get(word)?.[0]?.uri ?? []))));
  if ([...named].some((other) => other === uri || reaches(analysis, other, uri))) return undefined;
  const eol = lineEndOf(file.source.text);
  const uses = [...named].flatMap((other) => relativePath(target, other) ?? []).map((other) => `use "${other}"${eol}`);
  const from = phraseStart(phrase);
  const after = /^(?:[ \t]*(?:\r\n|\n|\r))*/.exec(text.slice(phrase.span.end))?.[0].length ?? 0;
  const taken: Span = { start: from + start, end: phrase.span.end + after + start };
  const put: FileEdit = { uri, span: { start: use.span.start + place.start, end: use.span.end + place.start }, text: use.text.replaceAll("\n", eol) };
  // At the head of the file both are one edit.
  const edits = put.span.start === taken.start ? [{ ...put, span: taken }] : [put, { uri, span: taken, text: "" }];
  return { creates: [{ uri: target, text: `${uses.join("")}${uses.length > 0 ? eol : ""}${text.slice(from, phrase.span.end)}${eol}` }], edits };
}

/** The files whose builds rest on a file. */
export function restingOn(analysis: Analysis, uri: string): readonly string[] {
  return [...analysis.project.files.keys()].filter((other) => analysis.scope(other).files.some((f) => f.uri === uri));
}

/** A new file beside the parts that the build uses, else beside the build. */
export function fileFor(analysis: Analysis, uri: string, name: string): string | undefined {
  return fileBeside(analysis, analysis.scope(uri).files.find((f) => f.uri !== uri && f.declarations.some((d) => d.sort === "part"))?.uri ?? uri, name);
}

function fileBeside(analysis: Analysis, beside: string, name: string): string | undefined {
  if (!/^[a-z][a-z0-9+.-]*:/i.test(beside) || beside.startsWith("untitled:")) return undefined;
  const target = `${beside.slice(0, beside.lastIndexOf("/") + 1)}${name}.tappet`;
  return analysis.project.files.has(target) ? undefined : target;
}

/** A name that is free in a file's sight, made of words. */
export function freeName(words: string, taken: (name: string) => boolean): string {
  const plain = words.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "").replace(/[^a-z0-9]+/g, "-").replace(/^[^a-z]+|-+$/g, "") || "part";
  const bad = (name: string) => taken(name) || unitOfSpelling(name) !== undefined || [...TOP_WORDS, ...RESERVED_WORDS, ...STATEMENT_WORDS].some((w) => w === name);
  for (let n = 1; ; n++) {
    const name = n === 1 ? plain : `${plain}-${n}`;
    if (!bad(name)) return name;
  }
}

function nameFor(analysis: Analysis, uri: string, build: Declaration, fit: FitFact, kind: PartKind): string {
  const { parts } = analysis.scope(uri);
  return freeName(fit.inline?.name?.text ?? fit.inline?.title ?? `${kind.id}-${build.name?.text ?? "1"}`, (name) => parts.has(name) || name === kind.id);
}

function reaches(analysis: Analysis, from: string, to: string): boolean {
  return analysis.scope(from).files.some((file) => file.uri === to || usesOf(file).some((use) => use.uri === to));
}

export function laidOut(text: string, eol: string): string {
  return indented(format(readSource("new", text)), "", eol);
}

/** Where a phrase begins, the explanation above it included. */
export function phraseStart(phrase: Phrase | undefined): number {
  return phrase ? Math.min(phrase.span.start, ...phrase.docs.map((d) => d.span.start)) : 0;
}
