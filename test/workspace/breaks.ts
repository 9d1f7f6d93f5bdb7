// Breaks every figure of the clean samples once, in every way that no engine can have: nothing, less than nothing, a thousand million times too
// much. What the checker then says is for the tests to judge.
import { readSource } from "../../grammar/read.ts";
import type { FigureFact } from "../../server/model/declaration.ts";
import { type ProjectFile, usesOf } from "../../server/model/project.ts";
import { kindOf } from "../../server/quantity/kinds.ts";
import type { Finding } from "../../server/rules/finding.ts";
import { allFigures } from "../../server/editor/spot.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { makeSheet } from "../../server/workspace/build-sheet.ts";
import { projectFileOf } from "../../server/workspace/load.ts";
import { sampleTexts } from "./corpus.ts";

/** The build with the mistakes is not clean: its figures are left out. */
const UNCLEAN = /wren-hill-2\.tappet$/;
const AS_OF = "2027-12-01";

export const BREAKS = [
  { id: "0", of: () => "0" },
  { id: "negative", of: (digits: string) => `−${digits}` },
  { id: "×1e9", of: (digits: string) => String(Number(digits) * 1e9) },
] as const;

export interface Broken {
  readonly file: string;
  readonly line: number;
  readonly key: string;
  /** The least that the schema says its key ever holds, where it says so. */
  readonly least: number | undefined;
  readonly break: string;
  readonly text: string;
  /** New findings at warning or above whose place, or a place beside it, is the broken line. */
  readonly here: readonly Finding[];
  /** New ones at warning or above that are about something else. */
  readonly elsewhere: readonly Finding[];
  /** Where something that is no number stands, as paths of the sheet's JSON and messages. */
  readonly noNumbers: readonly string[];
}

/** Paths inside a value at which a number is not finite, or a text says so. */
export function notNumbers(value: unknown, path = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path} ${value}`];
  if (typeof value === "string") return /\b(NaN|Infinity|undefined)\b/.test(value) ? [`${path} ${value}`] : [];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => notNumbers(inner, `${path}/${key}`));
}

export function breakAll(wanted: (n: number) => boolean = () => true): readonly Broken[] {
  const files = new Map<string, ProjectFile>(Object.entries(sampleTexts()).filter(([uri]) => !UNCLEAN.test(uri)).map(([uri, text]) => [uri, projectFileOf(readSource(uri, text))]));
  const users = new Map([...files.keys()].map((uri) => [uri, [...files.keys()].filter((user) => sees(files, user, uri))]));
  const key = (uri: string, f: Finding) => `${uri} ${f.rule} ${f.path ?? ""} ${f.message}`;
  const clean = analyse({ files, unreadable: new Map() }, AS_OF);
  const before = new Set([...files.keys()].flatMap((uri) => (clean.fileResult(uri)?.findings ?? []).map((f) => key(uri, f))));
  const out: Broken[] = [];
  let n = 0;
  for (const [uri, file] of files)
    file.declarations.forEach((declaration, i) => {
      const start = file.source.declarations[i]?.start ?? 0;
      for (const { span, written, digits, least } of figuresOf(allFigures(declaration), declaration.tree.text))
        for (const how of BREAKS) {
          if (!wanted(n++)) continue;
          const to = how.of(digits);
          const at = start + span.start;
          const text = file.source.text.slice(0, at) + to + file.source.text.slice(start + span.end);
          const broken = new Map(files).set(uri, projectFileOf(readSource(uri, text, file.source)));
          const analysis = analyse({ files: broken, unreadable: new Map() }, AS_OF);
          const line = (t: string, offset: number) => t.slice(0, offset).split("\n").length;
          const mine = line(text, at);
          const isHere = (place: Finding["at"]) => {
            const found = analysis.places.placeOf(place.tree);
            return found?.uri === uri && line(text, found.start + place.span.start) === mine;
          };
          const here: Finding[] = [];
          const elsewhere: Finding[] = [];
          const noNumbers: string[] = [];
          for (const user of users.get(uri) ?? []) {
            const result = analysis.fileResult(user);
            for (const f of result?.findings ?? []) {
              noNumbers.push(...notNumbers(f.message, `${user} ${f.rule}`));
              if (f.severity === "advice" || before.has(key(user, f))) continue;
              (isHere(f.at) ? here : elsewhere).push(f);
            }
            for (const subject of result?.subjects ?? []) noNumbers.push(...notNumbers(sheetJson(makeSheet(analysis, subject, (u) => u).input), subject.build.subject.name?.text ?? ""));
          }
          out.push({ file: uri.slice("file:///samples/".length), line: mine, key: written, least, break: how.id, text: text.slice(at - 30, at + 40).replaceAll("\n", " "), here, elsewhere, noNumbers });
        }
    });
  return out;
}

function sees(files: ReadonlyMap<string, ProjectFile>, from: string, to: string): boolean {
  const seen = new Set<string>();
  const queue = [from];
  for (let uri = queue.pop(); uri !== undefined; uri = queue.pop()) {
    if (uri === to) return true;
    if (seen.has(uri)) continue;
    seen.add(uri);
    const file = files.get(uri);
    if (file) queue.push(...usesOf(file).map((u) => u.uri));
  }
  return false;
}

interface Place {
  readonly span: { readonly start: number; readonly end: number };
  readonly written: string;
  readonly digits: string;
  readonly least: number | undefined;
}

/** The first number of each figure that has a unit, once, though it may land on two paths. */
function figuresOf(figures: readonly FigureFact[], text: string): readonly Place[] {
  const places = new Map<number, Place>();
  for (const { key, value, written } of figures) {
    if (value.is !== "quantity" || !value.quantity.unit || kindOf(value.quantity.kind).bare) continue;
    const span = value.quantity.figures[0];
    const digits = span && text.slice(span.start, span.end);
    if (span && digits && /^\d*\.?\d+$/.test(digits) && Number(digits) !== 0) places.set(span.start, { span, written, digits, least: key.usual?.low });
  }
  return [...places.values()];
}
