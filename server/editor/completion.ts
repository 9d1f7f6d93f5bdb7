// What may be written at the caret, likeliest first: keys with their unit already typed, units, qualifiers, names, statements. Offsets in the
// file out; knows no protocol.
import { type Caret, caretAt } from "../../grammar/caret.ts";
import type { Span } from "../../grammar/tree.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { Location } from "../model/declaration.ts";
import { asked } from "../model/effective.ts";
import { type PlacedDeclaration, type Scope, namesOf } from "../model/project.ts";
import { KINDS } from "../quantity/kinds.ts";
import { RULES } from "../rules/index.ts";
import { ENGINE_BLOCK_NAMES, type Place, columnIn, keyIn, landingIn, partKindOf, phraseOf, placeAt, qualifierSet } from "../schema/lookup.ts";
import { MEASUREMENTS } from "../schema/measurements.ts";
import { PART_KINDS } from "../schema/parts/index.ts";
import { DECLARATIONS } from "../schema/phrases.ts";
import type { BlockSchema, KeySchema, PartKind } from "../schema/types.ts";
import { FORMULAS } from "../sheet/formulas/index.ts";
import { formattedValue } from "../sheet/trace.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { subjectOf } from "./hover.ts";
import { type Here, hereAt } from "./spot.ts";
import { stepOf } from "./steps.ts";

export interface Completion {
  readonly label: string;
  readonly sort: "key" | "block" | "statement" | "unit" | "word" | "name" | "value";
  readonly detail: string;
  readonly documentation?: string;
  /** Plain text that replaces `span`. */
  readonly text: string;
  /** The same with places to fill in, in the snippet syntax of editors. */
  readonly snippet?: string;
  /** Smaller is likelier. */
  readonly rank: number;
  readonly span: Span;
}

type Offer = Omit<Completion, "span">;

export function completionsAt(analysis: Analysis, uri: string, offset: number): Completion[] {
  const here = hereAt(analysis, uri, offset);
  const caret = here ? caretAt(here.declaration.tree, here.offset) : undefined;
  const start = here?.start ?? 0;
  if (!here || !caret || caret.slot === "comment" || caret.slot === "string") return [];
  const span = { start: caret.token.span.start + start, end: Math.max(caret.token.span.end, caret.whole.end) + start };
  const seen = new Set<string>();
  return offersAt(here, caret).flatMap((offer) => {
    if (seen.has(offer.label)) return [];
    seen.add(offer.label);
    return [{ ...offer, span }];
  });
}

function offersAt(here: Here, caret: Caret): readonly Offer[] {
  const scope = here.analysis.scope(here.file.uri);
  if (caret.path.length === 0 && (caret.slot === "item" || caret.before.length === 0)) return declarationOffers();
  if (caret.slot === "head") return headOffers(here, caret, scope);
  const steps = caret.path.map((p) => stepOf(p, scope));
  const place = placeAt(steps);
  if (!place) return [];
  const block = place.block;
  if (caret.slot === "item") return itemOffers(here, caret, block, place.side);
  if (caret.slot === "cell") return cellOffers(block, caret);
  const key = caret.key ? (keyIn(block, caret.key.text) ?? columnIn(block, caret.key.text)) : undefined;
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

function itemOffers(here: Here, caret: Caret, block: BlockSchema, side: string | undefined): Offer[] {
  const inner = caret.path[caret.path.length - 1];
  const given = new Set(inner?.block?.items.flatMap((i) => (i.kind === "entry" ? [i.key.text] : [])) ?? []);
  // The key under the caret is being written: it is not given yet.
  given.delete(caret.token.text);
  const inBuild = caret.path.length === 1 && inner?.word.text === "build";
  const keys = block.keys.filter((k) => !given.has(k.key)).map((k): Offer => (inBuild ? { ...keyOffer(k), rank: BUILD_KEYS.has(k.key) ? 0.4 : 2 } : keyOffer(k)));
  // Where a part is fitted by its name, its own file describes it: only how it is set is said here.
  const first = inner?.head[0];
  const byName = inner?.word.text === "fit" && !(first?.kind === "word" && partKindOf(first.text));
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

export function keyOffer(key: KeySchema): Offer {
  return {
    label: key.key, sort: "key", detail: key.words, documentation: `${key.key}: ${key.example}`, text: `${key.key}: `, snippet: `${key.key}: ${valueSnippet(key)}`,
    rank: (key.required ? -1 : 0) + (RANKS[key.importance ?? "useful"] ?? 1),
  };
}

/** A hole to be typed over, its unit already there, and its qualifier as a choice: never a figure, which would look like one that somebody gave. */
function valueSnippet(key: KeySchema): string {
  const type = key.type;
  if (type.is === "word") return `\${1|${Object.keys(type.options).map(escapeChoice).join(",")}|}`;
  if (type.is === "yes-no") return "${1|yes,no|}";
  if (type.is === "text" || type.is === "file") return '"${1}"';
  if (type.is !== "quantity") return "${1:…}";
  const sets = (key.qualifiers ?? []).flatMap((id) => qualifierSet(id) ?? []);
  const words = sets.flatMap((s) => Object.keys(s.options));
  let at = 1;
  const unit = KINDS[type.kind].units.length > 0 ? /(?:^|\s)([^\d\s.±+-][^\s]*)/.exec(key.example)?.[1] : undefined;
  const parts = ["${1:…}"];
  if (unit !== undefined && !words.includes(unit)) parts.push(escapeSnippet(unit));
  for (const set of sets) parts.push(`\${${++at}|${[...Object.keys(set.options), "unstated"].map(escapeChoice).join(",")}|}`);
  return parts.join(" ");
}

/** A whole table laid out for the engine's valves or cylinders. */
function tableOffer(here: Here, caret: Caret, block: BlockSchema): Offer[] {
  const measured = caret.path[caret.path.length - 1];
  if (measured?.word.text !== "measured" || block.table?.form !== "grid" || measured.block?.items.some((i) => i.kind === "row")) return [];
  const slots = subjectOf(here)?.build.slots;
  const count = (path: string) => {
    const given = slots?.get(path)?.chain.at(-1)?.fact.value;
    return given?.is === "quantity" ? Math.round(given.quantity.interval.nominal) : undefined;
  };
  const cylinders = count("cylinders");
  if (cylinders === undefined || cylinders < 1 || cylinders > 16) return [];
  const unit = block.table.kind && KINDS[block.table.kind].metric ? ` (${spellingOfUnit(KINDS[block.table.kind].metric as never)})` : "";
  const valves = block.table.heads === "cylinder numbers" && block.table.rows?.startsWith("intake");
  const rows = valves ? (["intake", "exhaust"] as const).flatMap((side) => lettered(side, count(`valve-gear.${side}.per-cylinder`) ?? 1)) : (block.table.rows?.split(", ").slice(0, 3) ?? ["reading"]);
  const heads = Array.from({ length: cylinders }, (_, i) => String(i + 1));
  const lines = [[(valves ? "valve" : "cylinder") + unit, ...heads], ...rows.map((row) => [row, ...heads.map(() => "-")])].map((cells) => `| ${cells.join(" | ")} |`);
  return [{ label: "table of readings", sort: "value", detail: `Laid out for ${cylinders} cylinders; replace each - with its reading.`, text: lines.join("\n"), snippet: lines.join("\n").replaceAll("$", "\\$"), rank: -2 }];
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
  const kind = type.is === "quantity" || type.is === "quantities" ? type.kind : type.is === "stages" ? "torque" : undefined;
  if (!kind) return askedOffers(here, key, place);
  const qualifiers = [...(key.qualifiers ?? []), ...(key.mayQualify ?? [])].flatMap((id) => {
    const set = qualifierSet(id);
    return set ? [...Object.entries(set.options).map(([w, words]) => word(w, words, 20)), ...(key.qualifiers?.includes(id) ? [word("unstated", "The source does not say.", 29)] : [])] : [];
  });
  const units = KINDS[kind].units.map((u, i): Offer => ({ label: spellingOfUnit(u), sort: "unit", detail: KINDS[kind].words, text: spellingOfUnit(u), rank: i }));
  if (caret.slot === "qualifier") return qualifiers;
  if (caret.slot === "unit") return [...units, ...qualifiers];
  if (/\d/.test(caret.token.text)) return units.map((u) => ({ ...u, label: `${caret.token.text} ${u.label}`, text: `${caret.token.text} ${u.text}` }));
  const snippet = valueSnippet(key);
  const hole: Offer = { label: snippet.replace(/\$\{\d+[:|]([^},|]*)[^}]*\}/g, "$1"), sort: "value", detail: `${key.words} Such as ${key.example}.`, text: "…", snippet, rank: 0 };
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

function headOffers(here: Here, caret: Caret, scope: Scope): readonly Offer[] {
  // The words of the head so far, the statement word first.
  const before = caret.before.map((t) => t.text);
  const statement = before[0] ?? caret.path[caret.path.length - 1]?.word.text ?? "";
  const last = before[before.length - 1];
  const word = (label: string, detail = "", rank = 0): Offer => ({ label, sort: "word", detail, text: label, rank });
  const engine = here.declaration.on?.text;
  if (last === "on" && statement === "build") return nameOffers(scope.engines);
  if (last === "for" && (statement === "part" || statement === "card")) return [...nameOffers(scope.engines), word("any", "Good for any engine.", 9)];
  if (last === "for" && (statement === "fit" || statement === "valve-spring")) return [word("intake"), word("exhaust")];
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
        ? [...nameOffers(scope.parts, (d) => d.declaration.scopes.length === 0 || d.declaration.scopes.some((s) => s.engine.text === "any" || s.engine.text === engine)), ...PART_KINDS.map((k): Offer => ({ label: k.id, sort: "block", detail: `${k.words} Described on the spot.`, text: `${k.id} { }`, snippet: `${k.id} "\${1}" {\n  $0\n}`, rank: 5 }))]
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
      return before.length === 1 ? MEASUREMENTS.map((m) => word(m.id, m.words)) : [word("cold"), word("hot"), word("on", "The day it was measured.")];
    default:
      return [];
  }
}

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
  if (values) return values.map((v): Offer => ({ label: v.id, sort: "value", detail: v.interval ? `${v.label}: ${formattedValue(v)}` : v.label, documentation: v.formula.words, text: v.id, rank: v.interval ? 0 : 1 }));
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
