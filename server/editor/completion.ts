// What may be written at the caret, likeliest first: keys with their unit already typed, units, qualifiers, names, statements. Offsets in the
// file out; knows no protocol.
import { type Caret, caretAt } from "../../grammar/caret.ts";
import { formatRows } from "../../grammar/printer.ts";
import type { Phrase, Span } from "../../grammar/tree.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { Location } from "../model/declaration.ts";
import { type Slot, asked, effective } from "../model/effective.ts";
import { type PlacedDeclaration, type Scope, namesOf } from "../model/project.ts";
import { KINDS } from "../quantity/kinds.ts";
import { UNITS } from "../quantity/units.ts";
import { type System, systemOf } from "../model/system.ts";
import { useEdit } from "../rules/names.ts";
import { needsOf } from "../rules/needs.ts";
import { RULES } from "../rules/index.ts";
import { allowed } from "../rules/severities.ts";
import { unitOfHole } from "../schema/hole.ts";
import { ENGINE_BLOCK_NAMES, type Place, columnIn, keyIn, landingIn, partKindOf, phraseOf, placeAt, qualifierSet } from "../schema/lookup.ts";
import { MEASUREMENTS, type Measurement, measurementBlock, measurementOf } from "../schema/measurements.ts";
import { PART_KINDS } from "../schema/parts/index.ts";
import { DECLARATIONS } from "../schema/phrases.ts";
import { SEVERITIES } from "../schema/shop.ts";
import { USUAL_STEPS } from "../schema/steps.ts";
import type { BlockSchema, KeySchema, PartKind } from "../schema/types.ts";
import { FORMULAS } from "../sheet/formulas/index.ts";
import { formattedValue } from "../sheet/trace.ts";
import type { Analysis } from "../workspace/analyse.ts";
import type { FileEdit } from "./fixes.ts";
import { subjectOf } from "./hover.ts";
import { relativePath } from "./links.ts";
import { headingsAt } from "./recording.ts";
import { type Here, hereAt } from "./spot.ts";
import { stepOf } from "./steps.ts";
import { stepKeyOffers, stepOffers } from "./work-steps.ts";

export interface Completion {
  readonly label: string;
  readonly sort: "key" | "block" | "statement" | "unit" | "word" | "name" | "value" | "file" | "folder";
  readonly detail: string;
  readonly documentation?: string;
  /** Plain text that replaces `span`. */
  readonly text: string;
  /** The same with places to fill in, in the snippet syntax of editors. */
  readonly snippet?: string;
  /** Smaller is likelier. */
  readonly rank: number;
  readonly span: Span;
  /** What is written elsewhere with it: the `use` of the file that declares the name. */
  readonly also?: FileEdit;
}

type Offer = Omit<Completion, "span">;

/** @param whole every build file there is, for names that another file declares. */
export function completionsAt(analysis: Analysis, uri: string, offset: number, whole?: Analysis): Completion[] {
  const here = hereAt(analysis, uri, offset);
  const caret = here ? caretAt(here.declaration.tree, here.offset) : undefined;
  const start = here?.start ?? 0;
  if (here && caret?.slot === "string") return headingOffers(here, caret);
  if (!here || !caret || caret.slot === "comment" || caret.slot === "string") return [];
  const span = { start: caret.token.span.start + start, end: Math.max(caret.token.span.end, caret.whole.end) + start };
  const seen = new Set<string>();
  const { text } = here.declaration.tree;
  // Where something follows on the line, a whole layout would tear it apart.
  const free = /^[ \t]*(?:[\r\n]|$)/.test(text.slice(Math.max(caret.token.span.end, caret.whole.end)));
  return [...offersAt(here, caret, free), ...(whole ? namesElsewhere(here, caret, whole) : [])].flatMap((offer) => {
    if (seen.has(offer.label)) return [];
    seen.add(offer.label);
    return [{ ...offer, span }];
  });
}

/** Headings of a recording's file, between the quotes that are open. */
function headingOffers(here: Here, caret: Caret): Completion[] {
  const { text } = here.declaration.tree;
  const from = caret.token.span.start + 1;
  const closed = caret.whole.end > from && text.charAt(caret.whole.end - 1) === '"';
  const span = { start: from + here.start, end: Math.max(closed ? caret.whole.end - 1 : caret.whole.end, here.offset) + here.start };
  return headingsAt(here, caret, subjectOf(here)).map((h): Completion => ({ label: h.text, sort: "value", detail: h.free ? "A column of the recording." : "A column of the recording, named already.", text: h.text, rank: h.free ? 0 : 1, span }));
}

function offersAt(here: Here, caret: Caret, free: boolean): readonly Offer[] {
  const scope = here.analysis.scope(here.file.uri);
  if (caret.path.length === 0 && (caret.slot === "item" || caret.before.length === 0)) return declarationOffers();
  if (caret.slot === "head") return headOffers(here, caret, scope, free);
  const steps = caret.path.map((p) => stepOf(p, scope));
  const place = placeAt(steps);
  if (!place) return [];
  const block = place.block;
  if (caret.slot === "item") return itemOffers(here, caret, place, scope);
  if (caret.slot === "cell") return cellOffers(block, caret);
  const key = caret.key ? (keyIn(block, caret.key.text) ?? columnIn(block, caret.key.text)) : undefined;
  if (block === SEVERITIES) return RULES.filter((rule) => rule.id === caret.key?.text).flatMap(allowed).map((taken, i): Offer => ({ label: taken, sort: "word", detail: "", text: taken, rank: i }));
  return key ? valueOffers(here, caret, key, place, scope) : [];
}

function declarationOffers(): Offer[] {
  return DECLARATIONS.map((word, i) => {
    const phrase = phraseOf(word);
    return { label: word, sort: "statement" as const, detail: phrase?.words ?? "", text: `${word} `, snippet: DECLARATION_SNIPPETS[word], rank: i };
  });
}

const DECLARATION_SNIPPETS: Readonly<Record<(typeof DECLARATIONS)[number], string>> = {
  use: 'use "${1:engines/my-engine.tappet}"',
  engine: 'engine ${1:my-engine} "${2:What people call it}" {\n  source: "${3:where the figures come from}"\n\n  cylinders: ${4:…}\n  bore: ${5:…} mm\n  stroke: ${6:…} mm\n  $0\n}',
  part: 'part ${1:camshaft} ${2:my-part} "${3:What people call it}" for ${4:my-engine} {\n  source: "${5:card in the box}"\n  $0\n}',
  card: 'card ${1:my-card} for ${2:my-engine} {\n  source: "${3:where the figures come from}"\n  $0\n}',
  build: 'build ${1:my-build} "${2:What people call it}" on ${3:my-engine} {\n  $0\n}',
  shop: "shop {\n  $0\n}",
};

const RANKS: Readonly<Record<string, number>> = { essential: 0, useful: 1, rare: 3 };

/** Keys that a build is likely to set itself; everything else an engine has is the engine's to say. */
const BUILD_KEYS: ReadonlySet<string> = new Set(["redline", "fuel", "octane", "use", "altitude"]);

function itemOffers(here: Here, caret: Caret, place: Place, scope: Scope): Offer[] {
  const { block, side } = place;
  if (block === SEVERITIES) return RULES.map((rule): Offer => ({ label: rule.id, sort: "key", detail: rule.page.summary, text: `${rule.id}: `, snippet: `${rule.id}: \${1|${allowed(rule).join(",")}|}`, rank: 0 }));
  const inner = caret.path[caret.path.length - 1];
  const given = new Set(inner?.block?.items.flatMap((i) => (i.kind === "entry" ? [i.key.text] : [])) ?? []);
  // The key under the caret is being written: it is not given yet.
  given.delete(caret.token.text);
  const inBuild = caret.path.length === 1 && inner?.word.text === "build";
  const system = systemAt(here);
  // Where a part is fitted by its name, its own file describes it: only how it is set is said here.
  const first = inner?.head[0];
  const byName = inner?.word.text === "fit" && !(first?.kind === "word" && partKindOf(first.text));
  const settings = new Set(byName ? fitKeysOf(inner, scope) : []);
  const slots = subjectOf(here)?.build.slots;
  const keys = block.keys.filter((k) => !given.has(k.key) && (!byName || settings.size === 0 || settings.has(k.key)) && makesSense(place, k.key, slots)).map((k): Offer => (inBuild ? { ...keyOffer(k, system), rank: BUILD_KEYS.has(k.key) ? 0.4 : 2 } : keyOffer(k, system)));
  const blocks = Object.entries(byName ? {} : (block.blocks ?? {}))
    .filter(([word]) => !inner?.block?.items.some((i) => i.kind === "phrase" && i.word.text === word && i.head.length === 0))
    .map(([word, b]): Offer => ({ label: word, sort: "block", detail: b.words, text: `${word} { }`, snippet: `${word} {\n  $0\n}`, rank: PART_KINDS.some((k) => k.id === word) ? 3.5 : inBuild && word !== "lash" ? 2.2 : 0.5 }));
  const statements = (block.statements ?? []).map((word): Offer => {
    const phrase = phraseOf(word);
    return { label: word, sort: "statement", detail: phrase?.words ?? "", ...(phrase && { documentation: phrase.example }), text: `${word} `, rank: STATEMENT_RANKS[word] ?? 2 };
  });
  const table = block.table && side === undefined ? tableOffer(here, caret, block) : [];
  return [...keys, ...blocks, ...statements, ...table];
}

const STATEMENT_RANKS: Readonly<Record<string, number>> = { fit: 0.2, follow: 0.3, measured: 0.6, needs: 0.4, fastener: 0.7 };

/** The system of units that is written where the caret is: of the build or engine, else of the declaration. */
export function systemAt(here: Here): System {
  const subject = subjectOf(here);
  if (subject) return systemOf(subject.build);
  const units = here.declaration.figures.flatMap((f) => (f.value.is === "quantity" && f.value.quantity.unit ? [UNITS[f.value.quantity.unit].system] : []));
  return units.filter((u) => u === "inch").length > units.filter((u) => u === "metric").length ? "inch" : "metric";
}

/** Keys that only the fit of a part says. */
function fitKeysOf(fit: Phrase, scope: Scope): readonly string[] {
  const { of } = stepOf(fit, scope);
  return of === undefined ? [] : (partKindOf(of)?.fitKeys ?? []).map((k) => k.key);
}

/** What an engine of another make-up has not: the path's end, where the word that decides stands, and the words with which the key makes sense. */
const SENSE: readonly { readonly key: RegExp; readonly decides: string; readonly only: readonly string[] }[] = [
  { key: /\.(?:preload|preload-turns)$/, decides: "valve-gear.adjuster", only: ["hydraulic"] },
  { key: /^valve-gear\.(?:intake|exhaust)\.lash$/, decides: "valve-gear.adjuster", only: ["screw", "shim", "stud-nut", "eccentric", "none"] },
  { key: /\.shim$/, decides: "valve-gear.adjuster", only: ["shim"] },
  { key: /\.adjuster-(?:pitch|thread)$/, decides: "valve-gear.adjuster", only: ["screw", "stud-nut"] },
  { key: /\.pushrod-length$/, decides: "valve-gear.layout", only: ["ohv"] },
];

/** False where the engine says something that makes a key meaningless. */
function makesSense(place: Place, key: string, slots: ReadonlyMap<string, Slot> | undefined): boolean {
  return SENSE.every(({ key: path, decides, only }) => {
    const word = effective(slots?.get(decides))?.fact.value;
    return word?.is !== "word" || only.includes(word.word) || !landingIn(place, key).some((p) => path.test(p));
  });
}

export function keyOffer(key: KeySchema, system: System = "metric"): Offer {
  return {
    label: key.key, sort: "key", detail: key.words, documentation: `${key.key}: ${key.example}`, text: `${key.key}: `, snippet: `${key.key}: ${valueSnippet(key, system)}`,
    rank: (key.required ? -1 : 0) + (RANKS[key.importance ?? "useful"] ?? 1),
  };
}

/** A hole to be typed over, its unit already there, and its qualifier as a choice: never a figure, which would look like one that somebody gave. */
function valueSnippet(key: KeySchema, system: System): string {
  const type = key.type;
  if (type.is === "word") return `\${1|${Object.keys(type.options).map(escapeChoice).join(",")}|}`;
  if (type.is === "yes-no") return "${1|yes,no|}";
  if (type.is === "text" || type.is === "file") return '"${1}"';
  if (type.is !== "quantity") return "${1:…}";
  const sets = (key.qualifiers ?? []).flatMap((id) => qualifierSet(id) ?? []);
  let at = 1;
  const unit = unitOfHole(key, system);
  const parts = ["${1:…}"];
  if (unit !== undefined) parts.push(escapeSnippet(unit));
  for (const set of sets) parts.push(`\${${++at}|${[...Object.keys(set.options), "unstated"].map(escapeChoice).join(",")}|}`);
  return parts.join(" ");
}

/** A whole table laid out for the engine's valves or cylinders. */
function tableOffer(here: Here, caret: Caret, block: BlockSchema): Offer[] {
  const measured = caret.path[caret.path.length - 1];
  if (measured?.word.text !== "measured" || measured.block?.items.some((i) => i.kind === "row")) return [];
  const head = measured.head.flatMap((p) => (p.kind === "word" ? [p.text] : []));
  const lines = gridLines(here, block, head.includes("for") ? head[head.indexOf("for") + 1] : undefined);
  return lines ? [{ label: "table of readings", sort: "value", detail: "Laid out for this engine; replace each - with its reading.", text: lines.join("\n"), snippet: readingsFrom(lines, 1).join("\n"), rank: -2 }] : [];
}

/** A table's rows with a place to fill in for every reading, so that Tab goes from one to the next. */
function readingsFrom(lines: readonly string[], first: number): string[] {
  let at = first;
  return lines.map((line) => escapeSnippet(line).replace(/\|( *)-(?= *\|)/g, (_, blanks: string) => `|${blanks}\${${at++}:-}`));
}

/** The rows of a grid for this engine: a row a valve or place, a column a cylinder or bolt. Undefined where their number is not known. */
function gridLines(here: Here, block: BlockSchema, of?: string): string[] | undefined {
  const { table } = block;
  const subject = subjectOf(here);
  if (table?.form !== "grid" || !subject) return undefined;
  const count = (path: string) => {
    const given = effective(subject.build.slots.get(path))?.fact.value;
    return given?.is === "quantity" ? Math.round(given.quantity.interval.nominal) : undefined;
  };
  const measurement = measurementOf(block.id.replace(/^measured /, ""));
  // Nothing says how many bearings an engine has.
  const columns = table.heads?.startsWith("bearing") ? undefined : table.heads?.startsWith("bolt") ? (of === undefined ? undefined : count(`fastener.${of}.count`)) : count("cylinders");
  if (columns === undefined || columns < 1 || columns > 16) return undefined;
  const own = table.kind && KINDS[table.kind][systemAt(here)];
  const unit = own ? ` (${spellingOfUnit(own)})` : "";
  const valves = table.heads === "cylinder numbers" && table.rows?.startsWith("intake");
  const rows = valves ? (["intake", "exhaust"] as const).flatMap((side) => lettered(side, count(`valve-gear.${side}.per-cylinder`) ?? 1)) : (measurement?.rows ?? ["reading"]);
  const heads = Array.from({ length: columns }, (_, i) => String(i + 1));
  const cells = [[(valves ? "valve" : table.heads?.startsWith("bolt") ? "bolt" : "cylinder") + unit, ...heads], ...rows.map((row) => [row, ...heads.map(() => "-")])];
  return formatRows(cells.map((row) => `| ${row.join(" | ")} |`).join("\n")).split("\n");
}

function lettered(side: string, n: number): string[] {
  return n <= 1 ? [side] : Array.from({ length: Math.min(n, 4) }, (_, i) => `${side} ${String.fromCharCode(97 + i)}`);
}

function valueOffers(here: Here, caret: Caret, key: KeySchema, place: Place, scope: Scope): Offer[] {
  const type = key.type;
  const word = (label: string, detail: string, rank = 0): Offer => ({ label, sort: "word", detail, text: label, rank });
  if (type.is === "word") return Object.entries(type.options).map(([w, words], i) => word(w, words, i));
  if (type.is === "yes-no") return [word("yes", ""), word("no", "")];
  if (type.is === "name" && type.of) return nameOffers(namesOf(scope, type.of));
  if (type.is === "names") return stepKeyOffers(here, subjectOf(here), key.key).map((o): Offer => ({ ...o, sort: "name", text: o.label }));
  if (type.is === "date") return [word(here.analysis.asOf, "Today.")];
  const kind = type.is === "quantity" || type.is === "quantities" ? type.kind : type.is === "stages" ? "torque" : undefined;
  if (!kind) return askedOffers(here, key, place);
  const qualifiers = [...(key.qualifiers ?? []), ...(key.mayQualify ?? [])].flatMap((id) => {
    const set = qualifierSet(id);
    return set ? [...Object.entries(set.options).map(([w, words]) => word(w, words, 20)), ...(key.qualifiers?.includes(id) ? [word("unstated", "The source does not say.", 29)] : [])] : [];
  });
  const system = systemAt(here);
  const units = KINDS[kind].units.map((u, i): Offer => ({ label: spellingOfUnit(u), sort: "unit", detail: KINDS[kind].words, text: spellingOfUnit(u), rank: i + (system === "inch" && UNITS[u].system === "metric" ? 9 : 0) }));
  if (caret.slot === "qualifier") return qualifiers;
  if (caret.slot === "unit") return [...units, ...qualifiers];
  if (/\d/.test(caret.token.text)) return units.map((u) => ({ ...u, label: `${caret.token.text} ${u.label}`, text: `${caret.token.text} ${u.text}` }));
  const snippet = valueSnippet(key, system);
  const hole: Offer = { label: snippet.replace(/\$\{\d+[:|]([^{},|]*)(?:[,|][^{}]*)?\}/g, "$1"), sort: "value", detail: `${key.words} Such as ${key.example}.`, text: "…", snippet, rank: 0 };
  return [...askedOffers(here, key, place), hole];
}

/** The figure that the engine, a part or a card asks for, to be taken over. */
function askedOffers(here: Here, key: KeySchema, place: Place): Offer[] {
  const slots = subjectOf(here)?.build.slots;
  return landingIn(place, key.key).flatMap((path) => {
    const source = asked(slots?.get(path));
    if (!source || source.location.tree === here.declaration.tree) return [];
    const text = source.location.tree.text.slice(source.fact.span.start, source.fact.span.end);
    return [{ label: text, sort: "value" as const, detail: `Asked for by ${source.origin.words}.`, documentation: key.words, text, rank: -1 }];
  });
}

function cellOffers(block: BlockSchema, caret: Caret): Offer[] {
  if (block.table?.form === "columns") return (block.table.columns ?? []).map((c, i): Offer => ({ label: c.key, sort: "key", detail: c.words, text: c.key, rank: i }));
  if (caret.column !== 0) return [];
  return ["intake", "intake a", "intake b", "exhaust", "exhaust a", "exhaust b"].filter(() => block.table?.rows?.startsWith("intake")).map((w, i): Offer => ({ label: w, sort: "word", detail: "", text: w, rank: i }));
}

function headOffers(here: Here, caret: Caret, scope: Scope, free: boolean): readonly Offer[] {
  // The words of the head so far, the statement word first.
  const before = caret.before.map((t) => t.text);
  const statement = before[0] ?? caret.path[caret.path.length - 1]?.word.text ?? "";
  const last = before[before.length - 1];
  const word = (label: string, detail = "", rank = 0): Offer => ({ label, sort: "word", detail, text: label, rank });
  const engine = here.declaration.on?.text;
  if (last === "on" && statement === "build") return nameOffers(scope.engines);
  if (last === "for" && (statement === "part" || statement === "card")) return [...nameOffers(scope.engines), word("any", "Good for any engine.", 9)];
  if (last === "for" && (statement === "fit" || statement === "valve-spring")) return [word("intake"), word("exhaust")];
  if (last === "on" && DATED.has(statement)) return [word(here.analysis.asOf, "Today.")];
  if ((last === "after" || last === "before") && statement === "step") return stepOffers(here, subjectOf(here), "wait").map((o): Offer => ({ ...o, sort: "name", text: o.label }));
  if (last === "where") return [...valueIdOffers(here), ...partKeyOffers(partKindOf(before[1] ?? ""))];
  if (statement === "check") return valueIdOffers(here);
  switch (statement) {
    case "part":
      return before.length === 1 ? PART_KINDS.map((k) => word(k.id, k.words)) : [word("for", "The engine it is made for.")];
    case "card":
      return before.includes("for") ? ENGINE_BLOCK_NAMES.map((b) => word(b)) : [word("for", "The engine it is good for.")];
    case "build":
      return [word("on", "The engine it starts from.")];
    case "fit":
      return before.length === 1
        ? [...nameOffers(scope.parts, (d) => d.declaration.scopes.length === 0 || d.declaration.scopes.some((s) => s.engine.text === "any" || s.engine.text === engine)), ...kindOffers(here)]
        : [word("for", "The side it serves.")];
    case "follow":
      return nameOffers(scope.cards, (d) => d.declaration.scopes.length === 0 || d.declaration.scopes.some((s) => s.engine.text === "any" || s.engine.text === engine));
    case "needs":
      return before.length === 1 ? [...PART_KINDS.map((k) => word(k.id, k.words)), word("tune", "A tune made for this build.")] : [word("where", "What must hold of it."), word("after", "When.")];
    case "waive": {
      if (before.length > 1) return [word("because", "Why it is accepted."), word("until", "The day it ends.")];
      // What is wrong with the waiver half-written here is nothing to waive.
      const from = caret.before[0]?.span.start ?? here.offset;
      const own = (at: Location) => at.tree === here.declaration.tree && at.span.start <= here.offset && at.span.end >= from;
      const found = new Set((here.analysis.fileResult(here.file.uri)?.findings ?? []).flatMap((f) => (own(f.at) ? [] : [f.rule])));
      return RULES.filter((r) => r.scope !== "waiver").map((r) => word(r.id, r.page.summary, found.has(r.id) ? 0 : 5));
    }
    case "measured":
      return before.length === 1 ? MEASUREMENTS.map((m) => (free && !caretInHead(here, caret) ? measuredOffer(here, m) : word(m.id, m.words))) : [word("cold"), word("hot"), word("on", "The day it was measured.")];
    case "done":
      return [...stepOffers(here, subjectOf(here), "tick").filter((o) => !before.includes(o.label)).map((o): Offer => ({ ...o, sort: "name", text: o.label })), ...(before.length > 1 ? [word("on", "The day it was done.", -1)] : [])];
    case "step":
      return before.length === 1 ? stepOffers(here, subjectOf(here), "write").map((o): Offer => ({ ...o, sort: "name", text: o.label })) : [word("after", "Steps that come before it."), word("before", "Steps that wait for it.", 1)];
    case "fastener":
      return before.length === 1 ? fastenerNames(here).map((name, rank): Offer => blockOffer(name, "", free && !caretInHead(here, caret), rank)) : [];
    case "run":
      return before.length === 1 ? ["first-start", "running-in", "shakedown"].map((name, rank): Offer => blockOffer(name, ` on \${1:${here.analysis.asOf}}`, free && !caretInHead(here, caret), rank)) : [word("on", "The day.")];
    case "pull": case "log": case "tune":
      return before.includes("on") ? [] : [word("on", "The day.")];
    case "note": case "photo": case "document":
      return before.length === 1 ? [word("private", "Left out of a sheet that is made for everybody.", 5)] : [word("on", "The day."), word("by", "Who.", 1)];
    default:
      return [];
  }
}

/** A name with the block that follows it, where nothing follows on the line yet. */
function blockOffer(name: string, between: string, free: boolean, rank: number): Offer {
  return { label: name, sort: "name", detail: "", text: name, ...(free && { snippet: `${name}${between} {\n  $0\n}` }), rank };
}

/** Fasteners that the engine's figures are of, then those that the usual steps tighten. */
function fastenerNames(here: Here): string[] {
  const own = [...(subjectOf(here)?.build.slots.keys() ?? [])].flatMap((path) => /^fastener\.([^.]+)\./.exec(path)?.[1] ?? []);
  const given = new Set(here.declaration.fasteners.map((f) => f.name.text));
  return [...new Set([...own, ...USUAL_STEPS.flatMap((step) => step.tightens ?? [])])].filter((name) => !given.has(name));
}

/** Statements that say on which day something was done. */
const DATED: ReadonlySet<string> = new Set(["done", "measured", "run", "pull", "log", "tune", "fit", "note", "photo", "document"]);

/** Kinds of part to be described on the spot; those that are asked for and not fitted come first, then what an engine is mostly given. */
function kindOffers(here: Here): Offer[] {
  const subject = subjectOf(here);
  const wanted = new Map((subject ? needsOf(subject.build, subject.sheet) : []).flatMap((n) => (n.met || !n.kind ? [] : [[n.kind.id, n.asker.words] as const])));
  return PART_KINDS.map((k): Offer => {
    const asker = wanted.get(k.id);
    return { label: k.id, sort: "block", detail: asker === undefined ? `${k.words} Described on the spot.` : `Asked for by ${asker}.`, text: `${k.id} { }`, snippet: `${k.id} "\${1}" {\n  $0\n}`, rank: asker !== undefined ? 1 : OFTEN.has(k.id) ? 5 : 6 };
  });
}

/** Common practice, no source: what is mostly changed. */
const OFTEN: ReadonlySet<string> = new Set(["camshaft", "valve-spring", "retainer", "cam-gear", "piston", "ring", "gasket", "bearing", "carburettor", "follower", "pushrod"]);

/** True where the statement at the caret has its block already. */
function caretInHead(here: Here, caret: Caret): boolean {
  const from = caret.before[0]?.span.start;
  const items = caret.path[caret.path.length - 1]?.block?.items ?? [];
  return items.some((i) => i.kind === "phrase" && i.word.span.start === from && i.block !== undefined);
}

/** A whole measurement: its state to choose, today's date, and its table laid out for this engine. */
function measuredOffer(here: Here, m: Measurement): Offer {
  const block = measurementBlock(m);
  let at = 0;
  const states = (m.qualifiers ?? []).flatMap((id) => qualifierSet(id) ?? []).map((set) => ` \${${++at}|${[...Object.keys(set.options), "unstated"].map(escapeChoice).join(",")}|}`);
  const grid = gridLines(here, block);
  const of = m.of === undefined ? "" : ` for \${${++at}:${m.of}}`;
  const date = `\${${++at}:${here.analysis.asOf}}`;
  const has = (key: string) => block.keys.some((k) => k.key === key);
  const body = grid ? readingsFrom(grid, at + 1).map((line) => `  ${line}`).join("\n") : has("reading") ? `  reading: \${${at + 1}:…}` : has("intake") ? `  intake: \${${at + 1}:…}\n  exhaust: \${${at + 2}:…}` : "  $0";
  return { label: m.id, sort: "word", detail: m.words, text: m.id, snippet: `${m.id}${states.join("")}${of} on ${date} {\n${body}\n}`, rank: 0 };
}

/** Parts, cards and engines that a file declares which this one does not use yet; taking one writes the `use` too. */
function namesElsewhere(here: Here, caret: Caret, whole: Analysis): Offer[] {
  const before = caret.before.map((t) => t.text);
  const statement = before[0] ?? caret.path[caret.path.length - 1]?.word.text ?? "";
  const last = before[before.length - 1];
  const sort = caret.slot !== "head" ? undefined : statement === "fit" && before.length === 1 ? "part" : statement === "follow" && before.length === 1 ? "card" : (last === "on" && statement === "build") || (last === "for" && (statement === "part" || statement === "card")) ? "engine" : undefined;
  if (!sort) return [];
  const { file, analysis } = here;
  const known = namesOf(analysis.scope(file.uri), sort);
  const engine = here.declaration.on?.text;
  const out: Offer[] = [];
  for (const other of whole.project.files.values()) {
    const path = other.uri === file.uri ? undefined : relativePath(file.uri, other.uri);
    const use = path === undefined ? undefined : useEdit(file, path);
    const start = use && analysis.places.placeOf(use.tree)?.start;
    if (!use || start === undefined || analysis.scope(file.uri).files.some((f) => f.uri === other.uri)) continue;
    for (const d of other.declarations) {
      if (d.sort !== sort || !d.name || known.has(d.name.text) || out.length >= MOST_ELSEWHERE) continue;
      const good = sort === "engine" || d.scopes.length === 0 || d.scopes.some((s) => s.engine.text === "any" || s.engine.text === engine);
      out.push({
        label: d.name.text, sort: "name", detail: `${d.title ?? d.kindName?.text ?? d.sort}, from ${path}${good ? "" : " (made for another engine)"}`, ...(d.docs && { documentation: d.docs }), text: d.name.text, rank: good ? 3 : 8.5,
        also: { uri: file.uri, span: { start: use.span.start + start, end: use.span.end + start }, text: use.text },
      });
    }
  }
  return out;
}

const MOST_ELSEWHERE = 200;

/** Names of a sort; those that do not fit this engine come last and say so. */
function nameOffers(names: ReadonlyMap<string, readonly PlacedDeclaration[]>, fits: (d: PlacedDeclaration) => boolean = () => true): Offer[] {
  return [...names].flatMap(([label, [placed]]) => {
    if (!placed) return [];
    const good = fits(placed);
    const d = placed.declaration;
    return [{ label, sort: "name" as const, detail: `${d.title ?? d.kindName?.text ?? d.sort}${good ? "" : " (made for another engine)"}`, ...(d.docs && { documentation: d.docs }), text: label, rank: good ? 0 : 8 }];
  });
}

/** Computed values that a condition may be about: those of this build, else all that there are. */
function valueIdOffers(here: Here): Offer[] {
  const values = subjectOf(here)?.sheet.values.filter((v) => !v.formula.quiet);
  if (values) {
    // A value of each side may be named without one: then both must hold.
    const both = values.flatMap((v): Offer[] => (v.formula.id === `${v.id.replace(/\.intake$/, "")}.{each}` ? [{ label: v.id.replace(/\.intake$/, ""), sort: "value", detail: v.formula.words, text: v.id.replace(/\.intake$/, ""), rank: v.interval ? -0.5 : 0.5 }] : []));
    return [...both, ...values.map((v): Offer => ({ label: v.id, sort: "value", detail: v.interval ? `${v.label}: ${formattedValue(v)}` : v.label, documentation: v.formula.words, text: v.id, rank: v.interval ? 0 : 1 }))];
  }
  return FORMULAS.filter((f) => !f.quiet && (f.each === undefined || (f.each === "side" && f.id.endsWith(".{each}")))).map((f): Offer => {
    // A value of each side may be named without one: then both must hold.
    const id = f.id.replace(/\.\{each\}$/, "");
    return { label: id, sort: "value", detail: f.words, text: id, rank: 0 };
  });
}

/** Keys of a part that what is needed of it may be about. */
function partKeyOffers(kind: PartKind | undefined): Offer[] {
  return (kind?.keys ?? []).filter((k) => k.type.is === "quantity" || k.type.is === "yes-no").map((k): Offer => ({ label: k.key, sort: "key", detail: k.words, text: k.key, rank: -1 }));
}

function escapeSnippet(text: string): string {
  return text.replace(/[\\$}]/g, "\\$&");
}

function escapeChoice(text: string): string {
  return text.replace(/[\\$},|]/g, "\\$&");
}
