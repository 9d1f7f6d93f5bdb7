// Slips every figure of the clean samples once, in every way a hand slips, and counts what the checker says. `npm run slips` prints the list.
import { readFileSync, readdirSync } from "node:fs";
import { join, relative } from "node:path";
import { readSource } from "../../grammar/read.ts";
import { unitOfSpelling } from "../../grammar/vocabulary.ts";
import type { Declaration, FigureFact } from "../../server/model/declaration.ts";
import type { Project, ProjectFile } from "../../server/model/project.ts";
import { usesOf } from "../../server/model/project.ts";
import { kindOf } from "../../server/quantity/kinds.ts";
import { UNITS } from "../../server/quantity/units.ts";
import type { Finding } from "../../server/rules/finding.ts";
import { allFigures } from "../../server/editor/spot.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { projectFileOf } from "../../server/workspace/load.ts";

export const SAMPLES = join(import.meta.dirname, "..", "..", "samples");
/** Files beside the samples whose escapes were looked at, and closed where a relation closes them. */
export const FURTHER = join(import.meta.dirname, "further");
/** Files written once the checks stood, and by which no span or share was ever drawn: what they catch there they catch at large. */
export const HELD_OUT = join(import.meta.dirname, "held-out");
/** The build with the mistakes is not clean: its figures are left out. */
const UNCLEAN = /(wren-hill-2|first-try)\.tappet$/;
/** After the last date in any sample. */
const AS_OF = "2028-01-15";

/** Ways a hand slips. */
export const SLIPS = [
  { id: "x10", words: "ten times too large", times: 10 },
  { id: "/10", words: "ten times too small", times: 0.1 },
  { id: "x25.4", words: "inches written as millimetres", times: 25.4 },
  { id: "/25.4", words: "millimetres written as inches", times: 1 / 25.4 },
] as const;

/**
 * What no span can catch, and why: the slipped figure is as usual as the right one. Counted with the rest in the
 * rates; a second rate leaves out every slip of these keys, caught or not, so that leaving out the misses alone flatters nothing.
 */
export const BEYOND_SPANS: readonly { readonly keys: RegExp; readonly why: string }[] = [
  { keys: /(^|\.)altitude$/, why: "any height from the sea to the passes is a place where engines run" },
  { keys: /^run\.distance$|recheck-after$/, why: "a run may be round the block or across a country" },
  { keys: /temperature$|^cold$/, why: "a shed in winter is as cold as a tenth of its spring" },
  { keys: /(^|\.)(skim|block-skim|deck)$/, why: "next to nothing is what good work leaves" },
  { keys: /^measured piston-valve\..*-at$/, why: "piston and valve may come nearest at top dead centre itself" },
  { keys: /^measured (flatness|cam-endplay|squish|valve-to-valve|belt-slack|lash|piston-valve)/, why: "a gap that is measured may truly be next to nothing, or far too large, and that is what it is measured for" },
  { keys: /base-timing$/, why: "some engines are timed at top dead centre" },
  { keys: /^run\.max-boost$/, why: "a run may be done off boost" },
];

/** Why a slip was not caught, as far as it is known. */
export function whyNot(slip: Slip): string {
  if (slip.slip === "torque unit") return "1.36 times is less than lubrication makes of a torque";
  return BEYOND_SPANS.find(({ keys }) => keys.test(slip.key))?.why ?? "not caught yet: inside the span that its key holds, and held against no other figure";
}

export interface Slip {
  readonly file: string;
  readonly line: number;
  readonly key: string;
  readonly slip: string;
  readonly from: string;
  readonly to: string;
  /** A finding at warning or above that was not there before. */
  readonly raised: boolean;
  /** A fix of a new finding makes the figure what it was, by value. */
  readonly mended: boolean;
  readonly rules: readonly string[];
  /** The digits of the other system stand in the unit of this one: a length in inches 25.4 times too large, one in metric units too small. */
  readonly leftover: boolean;
}

export interface Measured {
  readonly files: number;
  readonly cleanFindings: readonly string[];
  readonly slips: readonly Slip[];
}

function load(folder: string): Map<string, string> {
  const texts = new Map<string, string>();
  for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((f) => f.endsWith(".tappet")).sort())
    texts.set(`file:///samples/${name.replaceAll("\\", "/")}`, readFileSync(join(folder, name), "utf8"));
  return texts;
}

/** Slips of the figures in a folder: the samples, or files that no check was written by. */
export function measureSlips(folder = SAMPLES): Measured {
  const texts = load(folder);
  const files = new Map<string, ProjectFile>([...texts].map(([uri, text]) => [uri, projectFileOf(readSource(uri, text))]));
  const usersOf = (uri: string) => [...files.keys()].filter((user) => !UNCLEAN.test(user) && sees(files, user, uri));
  const before = findingsOf({ files, unreadable: new Map() }, [...files.keys()].filter((u) => !UNCLEAN.test(u)));
  const slips: Slip[] = [];
  for (const [uri, file] of files) {
    if (UNCLEAN.test(uri)) continue;
    const users = usersOf(uri);
    file.declarations.forEach((declaration, i) => {
      const start = file.source.declarations[i]?.start ?? 0;
      for (const fact of once(allFigures(declaration))) {
        for (const { id, to, span } of slipsOf(fact, declaration.tree.text)) {
          const text = file.source.text.slice(0, start + span.start) + to + file.source.text.slice(start + span.end);
          const slipped = new Map(files).set(uri, projectFileOf(readSource(uri, text, file.source)));
          const after = findingsOf({ files: slipped, unreadable: new Map() }, users);
          const fresh = [...after].filter(([key]) => !before.has(key)).map(([, f]) => f);
          const slippedFile = slipped.get(uri) as ProjectFile;
          const offset = slippedFile.source.declarations[i]?.start ?? 0;
          const mends = fresh.flatMap((f) => f.fixes).some((fix) => {
            const mine = fix.edits.filter((e) => e.tree === slippedFile.declarations[i]?.tree);
            if (mine.length === 0 || mine.length < fix.edits.length) return false;
            const edited = [...mine].sort((x, y) => y.span.start - x.span.start).reduce((t, e) => t.slice(0, offset + e.span.start) + e.text + t.slice(offset + e.span.end), text);
            return sameFigure(fact, projectFileOf(readSource(uri, edited, slippedFile.source)).declarations[i]);
          });
          slips.push({
            file: relative("/samples", new URL(uri).pathname), line: file.source.text.slice(0, start + span.start).split("\n").length, key: fact.written, slip: id, from: file.source.text.slice(start + span.start, start + span.end), to,
            raised: fresh.some((f) => f.severity !== "advice"), mended: mends, rules: [...new Set(fresh.map((f) => f.rule))],
            leftover: id === (fact.value.is === "quantity" && fact.value.quantity.unit !== undefined && UNITS[fact.value.quantity.unit].system === "metric" ? "/25.4" : "x25.4"),
          });
        }
      }
    });
  }
  return { files: texts.size, cleanFindings: [...before.values()].filter((f) => f.severity !== "advice").map((f) => `${f.rule}: ${f.message}`), slips };
}

/** True where the declaration holds the figure again, by value: in whatever unit, as near as the digits of a slip can say it. */
function sameFigure(fact: FigureFact, declaration: Declaration | undefined): boolean {
  const found = declaration && once(allFigures(declaration)).find((f) => f.keySpan.start === fact.keySpan.start && f.written === fact.written);
  if (found?.value.is !== "quantity" || fact.value.is !== "quantity") return false;
  const [was, is] = [fact.value.quantity, found.value.quantity];
  const near = (a: number, b: number) => a === b || Math.abs(a - b) <= was.halfDigit + is.halfDigit;
  return was.kind === is.kind && near(was.interval.low, is.interval.low) && near(was.interval.high, is.interval.high);
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

/** That a figure is not what a tune was made for tells that it changed, whatever it changed to: no slip is caught by that. */
const NO_CATCH = new Set(["tune-stale", "tune-file-changed"]);

function findingsOf(project: Project, uris: readonly string[]): Map<string, Finding> {
  const analysis = analyse(project, AS_OF);
  const found = new Map<string, Finding>();
  for (const uri of uris)
    for (const f of analysis.fileResult(uri)?.findings ?? []) if (!NO_CATCH.has(f.rule)) found.set(`${uri} ${f.rule} ${f.path ?? ""} ${f.message}`, f);
  return found;
}

/** A figure that lands on two paths is one figure in the file. */
function once(figures: readonly FigureFact[]): readonly FigureFact[] {
  return [...new Map(figures.map((f) => [f.span.start, f])).values()];
}

/** Every slip of a figure: its nominal digits shifted, or its torque given as if in the other unit. Counts, ratios and words are no figures. */
function slipsOf(fact: FigureFact, text: string): { id: string; to: string; span: { start: number; end: number } }[] {
  if (fact.value.is !== "quantity") return [];
  const { quantity } = fact.value;
  const span = quantity.figures[0];
  if (!span || !quantity.unit || kindOf(quantity.kind).bare || quantity.figures.length > 2) return [];
  const digits = text.slice(span.start, span.end);
  if (!/^\d*\.?\d+$/.test(digits) || Number(digits) === 0) return [];
  const length = UNITS[quantity.unit].dimension.L === 1 && UNITS[quantity.unit].dimension.M === 0;
  const out = SLIPS.filter((s) => length || !s.id.includes("25.4")).map((s) => ({ id: s.id as string, to: shifted(digits, s.times), span }));
  const other = quantity.kind === "torque" ? (UNITS[quantity.unit].system === "metric" ? "ft-lb" : "N·m") : undefined;
  const unitSpan = quantity.unitSpans[0];
  if (other && unitSpan && unitOfSpelling(other)) out.push({ id: "torque unit", to: other, span: unitSpan });
  return out;
}

function shifted(digits: string, times: number): string {
  const x = Number(digits) * times;
  const decimals = digits.split(".")[1]?.length ?? 0;
  if (times === 10) return decimals > 0 ? x.toFixed(decimals - 1) : String(Math.round(x));
  if (times === 0.1) return x.toFixed(decimals + 1);
  return String(Number(x.toPrecision(Math.max(2, digits.replace(/^0|\./g, "").length))));
}

/** Rates and escapes as they are printed. */
function print(what: string, { files, cleanFindings, slips }: Measured): void {
  console.log(`${what}: ${files} files. Raised on the clean ones, untouched, at warning or above: ${cleanFindings.length}.`);
  for (const f of cleanFindings) console.log(`  ${f}`);
  for (const id of [...SLIPS.map((s) => s.id), "torque unit"]) {
    const of = slips.filter((s) => s.slip === id);
    const share = (n: number) => `${n} of ${of.length} (${of.length > 0 ? ((100 * n) / of.length).toFixed(1) : "0"} %)`;
    console.log(`${id}: caught ${share(of.filter((s) => s.raised).length)}, with the right figure offered ${share(of.filter((s) => s.mended).length)}`);
  }
  const decimal = slips.filter((s) => s.slip !== "torque unit");
  console.log(`All shifts of digits: caught ${decimal.filter((s) => s.raised).length} of ${decimal.length} (${((100 * decimal.filter((s) => s.raised).length) / decimal.length).toFixed(1)} %).`);
  const missed = slips.filter((s) => !s.raised);
  const within = decimal.filter((s) => !BEYOND_SPANS.some(({ keys }) => keys.test(s.key)));
  console.log(`Without the classes that no span can catch, caught or not: ${within.filter((s) => s.raised).length} of ${within.length} (${((100 * within.filter((s) => s.raised).length) / within.length).toFixed(1)} %).`);
  const units = slips.filter((s) => s.leftover);
  console.log(`Inch digits left in millimetres and the other way round, which is how 25.4 comes about: caught ${units.filter((s) => s.raised).length} of ${units.length}, with the right figure offered ${units.filter((s) => s.mended).length}.`);
  console.log("\nNot caught, by why not:");
  for (const [why, of] of [...Map.groupBy(missed, whyNot)].sort((a, b) => b[1].length - a[1].length)) {
    console.log(`  ${of.length}: ${why}`);
    for (const s of of) console.log(`    ${s.file}:${s.line} ${s.key}: ${s.from} -> ${s.to} (${s.slip})${s.rules.length > 0 ? ` [${s.rules.join(", ")}]` : ""}`);
  }
}

if (import.meta.main) {
  print("Samples", measureSlips());
  console.log("\n");
  print("Further files", measureSlips(FURTHER));
  console.log("\n");
  print("Held out: files that no check was made by", measureSlips(HELD_OUT));
}
