// What two states of one build say differently: figures, parts, cards, readings, records. Spellings of the same figure are no difference.
// Knows no computed value and no finding.
import type { CheckFact, Declaration, Location, MeasuredFact, NeedFact, RecordFact, WaiverFact } from "../model/declaration.ts";
import { type EffectiveBuild, type FittedPart, type Provided, type ProvidedTable, type Slot, asked, chosen, effective, wordsFor } from "../model/effective.ts";
import { plainValue } from "../model/plain-value.ts";
import { intervalOf } from "../model/value.ts";
import { formatBand, formatQuantity } from "../quantity/display.ts";
import { type KindId, kindOf } from "../quantity/kinds.ts";
import { keyOfPath } from "../schema/lookup.ts";
import { canonicalFigures, canonicalLink, canonicalOperand, canonicalQuantity, canonicalRecord, canonicalTable, canonicalValue, sliceOf } from "./canonical.ts";
import { meaningOf } from "./meaning.ts";

export type ChangeSort = "figure" | "reading" | "engine" | "part" | "card" | "table" | "record" | "check" | "waiver" | "need" | "shop";

/** One side of a change. */
export interface Stated {
  /** As written, on one line. */
  readonly text: string;
  /** "asked for by Ridgeway 272", "chosen in this build"; empty where the label says it. */
  readonly origin: string;
  readonly location: Location;
}

export interface Change {
  readonly sort: ChangeSort;
  /** The effective path of a figure; for everything else words that name it within the build. */
  readonly path: string;
  readonly label: string;
  /** Absent where it was not said before. */
  readonly from?: Stated;
  /** Absent where it is not said any more. */
  readonly to?: Stated;
  /** True where the same figure is written in another unit, and only its last digit rounds. */
  readonly respelt: boolean;
  /** The facts behind the two sides, by which traces know them. */
  readonly facts: readonly unknown[];
}

/** Something that only goes by another name now. */
export interface Renamed {
  readonly sort: "build" | "engine" | "part" | "card";
  readonly from: string;
  readonly to: string;
}

export interface Changes {
  readonly changes: readonly Change[];
  readonly renamed: readonly Renamed[];
}

/** In the order in which a build is read: what it stands on, its figures, what was measured and recorded, what it holds itself to. */
export function changesBetween(before: EffectiveBuild, after: EffectiveBuild): Changes {
  const renamed: Renamed[] = [];
  const { changes: structure, moved } = structureChanges(before, after, renamed);
  return {
    changes: [
      ...structure, ...figureChanges(before, after, moved), ...tableChanges(before, after, moved), ...needChanges(before, after), ...readingChanges(before, after),
      ...listed("record", before, after, recordsOf), ...listed("check", before, after, checksOf), ...listed("waiver", before, after, waiversOf), ...shopChanges(before.shop, after.shop),
    ],
    renamed,
  };
}

/** Figures and tables of one declaration that no build stands on. */
export function declarationChanges(before: Declaration, after: Declaration): readonly Change[] {
  const figures = (d: Declaration) => new Map(d.figures.map((f) => [f.written, f]));
  const [old, now] = [figures(before), figures(after)];
  const changes: Change[] = [];
  for (const path of union(old.keys(), now.keys())) {
    const [a, b] = [old.get(path), now.get(path)];
    if (a && b && canonicalValue(a.value) === canonicalValue(b.value)) continue;
    const stated = (f: typeof a, d: Declaration) => f && { text: plainValue(f.value), origin: "", location: { tree: d.tree, span: f.span } };
    const [from, to] = [stated(a, before), stated(b, after)];
    changes.push({ sort: "figure", path, label: (b ?? a)?.key.key ?? path, ...(from && { from }), ...(to && { to }), respelt: false, facts: [a, b] });
  }
  const tables = (d: Declaration): Listing => new Map(d.tables.map((t) => [t.path, { canonical: canonicalTable(t.table), label: `table of ${t.path}`, stated: { text: rowsOf(t.table.rows.length), origin: "", location: { tree: d.tree, span: t.span } }, fact: t }]));
  const needs = (d: Declaration): Listing => keyed(d.needs.map((n) => [needKey(n), needEntry(n, d)]));
  return [...changes, ...between("table", tables(before), tables(after)), ...between("need", needs(before), needs(after))];
}

/** True where two declarations give the same figures, conditions and tables, whatever they are called. */
export function sameContent(a: Declaration, b: Declaration): boolean {
  return a.kindName?.text === b.kindName?.text && declarationChanges(a, b).length === 0;
}

/** Paths of the earlier build under the names that the later one has for the same part. */
type Moved = (path: string) => string;

function structureChanges(before: EffectiveBuild, after: EffectiveBuild, renamed: Renamed[]): { changes: Change[]; moved: Moved } {
  const changes: Change[] = [];
  const nameOf = (d: Declaration | undefined, or: string | undefined) => d?.name?.text ?? or ?? "";
  const [oldEngine, newEngine] = [nameOf(before.engine, before.subject.on?.text), nameOf(after.engine, after.subject.on?.text)];
  const onSpan = (b: EffectiveBuild): Location => ({ tree: b.subject.tree, span: b.subject.on?.span ?? b.subject.name?.span ?? b.subject.wordSpan });
  if (oldEngine !== newEngine) {
    if (before.engine && after.engine && sameContent(before.engine, after.engine)) renamed.push({ sort: "engine", from: oldEngine, to: newEngine });
    else if (after.subject.sort === "build")
      changes.push({ sort: "engine", path: "engine", label: "engine", from: { text: before.engine ? wordsFor(before.engine) : oldEngine, origin: "", location: onSpan(before) }, to: { text: after.engine ? wordsFor(after.engine) : newEngine, origin: "", location: onSpan(after) }, respelt: false, facts: [] });
  }
  const moves: [string, string][] = [];
  const { pairs, gone, come } = pairedParts(before.parts, after.parts);
  const at = (part: FittedPart, b: EffectiveBuild): Stated => ({ text: part.words, origin: "", location: { tree: b.subject.tree, span: part.fit.name?.span ?? part.fit.span } });
  for (const [a, b] of pairs) {
    const [from, to] = [a.declaration.name?.text, b.declaration.name?.text];
    if (from !== undefined && to !== undefined && from !== to) {
      if (a.declaration.kind?.several) {
        const base = a.declaration.kind.base ?? a.kindId;
        moves.push([`${base}.${from}.`, `${base}.${to}.`]);
      }
      if (sameContent(a.declaration, b.declaration)) renamed.push({ sort: "part", from, to });
      else changes.push({ sort: "part", path: `fit ${to}`, label: partLabel(b), from: at(a, before), to: at(b, after), respelt: false, facts: [] });
    } else if (from === undefined && to === undefined && a.words !== b.words) changes.push({ sort: "part", path: `fit ${b.kindId}`, label: partLabel(b), from: at(a, before), to: at(b, after), respelt: false, facts: [] });
    const [was, is] = [a.fit.status?.text, b.fit.status?.text];
    if (was !== is) {
      const status = (part: FittedPart, text: string | undefined, build: EffectiveBuild) => (text === undefined ? undefined : { text, origin: "", location: { tree: build.subject.tree, span: part.fit.status?.span ?? part.fit.span } });
      const [fromStatus, toStatus] = [status(a, was, before), status(b, is, after)];
      changes.push({ sort: "part", path: `fit ${to ?? b.kindId} status`, label: `${b.words}, whether it is here`, ...(fromStatus && { from: fromStatus }), ...(toStatus && { to: toStatus }), respelt: false, facts: [] });
    }
  }
  for (const part of gone) changes.push({ sort: "part", path: `fit ${part.declaration.name?.text ?? part.kindId}`, label: partLabel(part), from: at(part, before), respelt: false, facts: [] });
  for (const part of come) changes.push({ sort: "part", path: `fit ${part.declaration.name?.text ?? part.kindId}`, label: partLabel(part), to: at(part, after), respelt: false, facts: [] });
  const oldCards = before.cards.filter((c) => !after.cards.some((d) => d.follow.name.text === c.follow.name.text));
  const newCards = after.cards.filter((c) => !before.cards.some((d) => d.follow.name.text === c.follow.name.text));
  for (const card of oldCards) {
    const same = newCards.findIndex((d) => sameContent(card.declaration, d.declaration));
    const heir = newCards[same];
    if (heir) {
      newCards.splice(same, 1);
      renamed.push({ sort: "card", from: card.follow.name.text, to: heir.follow.name.text });
    } else changes.push({ sort: "card", path: `follow ${card.follow.name.text}`, label: "card", from: { text: wordsFor(card.declaration), origin: "", location: { tree: before.subject.tree, span: card.follow.name.span } }, respelt: false, facts: [] });
  }
  for (const card of newCards) changes.push({ sort: "card", path: `follow ${card.follow.name.text}`, label: "card", to: { text: wordsFor(card.declaration), origin: "", location: { tree: after.subject.tree, span: card.follow.name.span } }, respelt: false, facts: [] });
  return { changes, moved: (path) => moves.reduce((now, [from, to]) => (now.startsWith(from) ? to + now.slice(from.length) : now), path) };
}

function partLabel(part: FittedPart): string {
  return `${part.kindId.replaceAll("-", " ")}${part.side ? `, ${part.side}` : ""}`;
}

/** Parts by name, then what is left by kind and side, in order. */
function pairedParts(before: readonly FittedPart[], after: readonly FittedPart[]): { pairs: [FittedPart, FittedPart][]; gone: FittedPart[]; come: FittedPart[] } {
  const pairs: [FittedPart, FittedPart][] = [];
  const left = [...after];
  const unmatched: FittedPart[] = [];
  const take = (wanted: (b: FittedPart) => boolean) => {
    const i = left.findIndex(wanted);
    return i < 0 ? undefined : left.splice(i, 1)[0];
  };
  for (const a of before) {
    const name = a.declaration.name?.text;
    const b = name === undefined ? undefined : take((p) => p.declaration.name?.text === name && p.side === a.side);
    if (b) pairs.push([a, b]);
    else unmatched.push(a);
  }
  const gone: FittedPart[] = [];
  for (const a of unmatched) {
    const b = take((p) => p.kindId === a.kindId && p.side === a.side);
    if (b) pairs.push([a, b]);
    else gone.push(a);
  }
  return { pairs, gone, come: left };
}

function figureChanges(before: EffectiveBuild, after: EffectiveBuild, moved: Moved): Change[] {
  const old = new Map([...before.slots.values()].map((slot) => [moved(slot.path), slot]));
  const changes: Change[] = [];
  for (const path of union(old.keys(), after.slots.keys())) {
    const [a, b] = [old.get(path), after.slots.get(path)];
    const now = figureChange(path, a, b, effective);
    if (now) changes.push(now);
    // What a source asks for counts beside what was chosen: some values rest on it, and the checker compares the two.
    if (effective(a) !== asked(a) || effective(b) !== asked(b)) {
      const other = figureChange(path, a, b, asked);
      if (other && !(now && sameFacts(now, other)) && chosen(a) && chosen(b)) changes.push({ ...other, label: `${other.label}, as asked for` });
    }
  }
  return changes;
}

function sameFacts(a: Change, b: Change): boolean {
  return a.facts.every((fact, i) => fact === b.facts[i]);
}

function figureChange(path: string, a: Slot | undefined, b: Slot | undefined, which: (slot: Slot | undefined) => Provided | undefined): Change | undefined {
  const [old, now] = [which(a), which(b)];
  if (!old && !now) return undefined;
  const same = a && b && old && now && canonicalLink(a, old) === canonicalLink(b, now);
  if (same) return undefined;
  const key = (b ?? a)?.key.key ?? path;
  const alike = old && now && plainValue(old.fact.value) === plainValue(now.fact.value);
  const from = a && old && statedLink(a, old, alike === true);
  const to = b && now && statedLink(b, now, alike === true);
  return { sort: "figure", path, label: key, ...(from && { from }), ...(to && { to }), respelt: old !== undefined && now !== undefined && isRespelt(old, now), facts: [old?.fact, now?.fact] };
}

/** `spelt`: the text alone does not tell the two apart (an oversize on another standard), so its number stands behind it. */
function statedLink(slot: Slot, provided: Provided, spelt: boolean): Stated {
  const meaning = spelt ? meaningOf(slot, provided) : undefined;
  const type = provided.fact.key.type;
  const number = meaning && type.is === "quantity" ? ` (${formatBand(meaning.interval, type.kind, kindOf(type.kind).metric)})` : "";
  return { text: plainValue(provided.fact.value) + number, origin: provided.role === "asked" ? `asked for by ${provided.origin.words}` : `chosen in ${provided.origin.words}`, location: provided.location };
}

/** The same figure in another unit, as near as its digits allow. */
function isRespelt(a: Provided, b: Provided): boolean {
  const [x, y] = [a.fact.value, b.fact.value];
  if (x.is !== "quantity" || y.is !== "quantity" || x.quantity.unit === y.quantity.unit || x.quantity.kind !== y.quantity.kind || x.quantity.shape !== y.quantity.shape) return false;
  const words = (v: typeof x) => Object.values(v.qualifiers).sort().join(" ");
  const slack = x.quantity.halfDigit + y.quantity.halfDigit;
  const [p, q] = [intervalOf(x), intervalOf(y)];
  const near = (m: number, n: number) => m === n || Math.abs(m - n) <= slack;
  return words(x) === words(y) && x.clauses.length === 0 && y.clauses.length === 0 && p !== undefined && q !== undefined && near(p.low, q.low) && near(p.nominal, q.nominal) && near(p.high, q.high);
}

function tableChanges(before: EffectiveBuild, after: EffectiveBuild, moved: Moved): Change[] {
  const listing = (build: EffectiveBuild, name: Moved): Listing =>
    new Map([...build.tables].map(([path, table]: [string, ProvidedTable]) => [name(path), { ...tableEntry(table), label: `table of ${name(path)}` }]));
  return between("table", listing(before, moved), listing(after, (path) => path));
}

/** A table in a file of its own is told by its path and by the print of what is in it. */
function tableEntry({ fact, file, origin, location }: ProvidedTable): Omit<Entry, "label"> {
  const by = { origin: `given by ${origin.words}`, location };
  if (fact) return { canonical: canonicalTable(fact.table), stated: { text: rowsOf(fact.table.rows.length), ...by }, fact };
  const path = sliceOf(location.tree, location.span);
  const print = file && "print" in file ? file.print : "not read";
  return { canonical: `${path} ${print}`, stated: { text: `${path} (${print})`, ...by }, fact: file };
}

function rowsOf(count: number): string {
  return count === 1 ? "1 row" : `${count} rows`;
}

function needChanges(before: EffectiveBuild, after: EffectiveBuild): Change[] {
  const listing = (build: EffectiveBuild): Listing =>
    keyed([...build.parts, ...build.cards].flatMap(({ declaration }) => declaration.needs.map((n): [string, Entry] => {
      const entry = needEntry(n, declaration);
      return [`${declaration.kindName?.text ?? "card"} ${needKey(n)}`, { ...entry, label: `${wordsFor(declaration)} ${entry.label}` }];
    })));
  return between("need", listing(before), listing(after));
}

function needKey(need: NeedFact): string {
  return `needs ${need.what.text}`;
}

function needEntry(need: NeedFact, declaration: Declaration): Entry {
  const where = need.where.map((w) => `${w.path.text} ${w.op ?? ""} ${w.operand ? canonicalOperand(declaration.tree, w.operand, kindAt(w.path.text)) : ""}`);
  return { canonical: [need.after?.text ?? "", ...where].join("\n"), label: `needs ${need.what.text}`, stated: { text: sliceOf(declaration.tree, need.span), origin: `asked for by ${wordsFor(declaration)}`, location: { tree: declaration.tree, span: need.span } }, fact: need };
}

function kindAt(path: string): KindId | undefined {
  const type = keyOfPath(path)?.type;
  return type?.is === "quantity" ? type.kind : undefined;
}

/** Readings one by one: `lash cold on 2027-03-14, intake a 2`. */
function readingChanges(before: EffectiveBuild, after: EffectiveBuild): Change[] {
  return between("reading", readingsOf(before), readingsOf(after));
}

function readingsOf(build: EffectiveBuild): Listing {
  const { tree } = build.subject;
  return keyed(build.measured.flatMap((fact) => {
    const head = headOf(fact);
    const one = (place: string, canonical: string, text: string, span: Location["span"]): [string, Entry] => {
      const label = [head, place].filter((t) => t !== "").join(", ");
      return [label, { canonical, label, stated: { text, origin: fact.date ? `measured on ${fact.date.text}` : "measured", location: { tree, span } }, fact: span }];
    };
    return [
      ...fact.readings.map((r) => one(`${r.row} ${r.head}`.trim(), [canonicalQuantity(r.quantity), ...r.words.map((w) => w.text)].join(" "), [formatQuantity(r.quantity), ...r.words.map((w) => w.text)].join(" "), r.span)),
      ...fact.figures.map((f) => one(f.key.key, canonicalValue(f.value), plainValue(f.value), f.span)),
      ...(fact.table && fact.readings.length === 0 ? [one("table", canonicalTable(fact.table), rowsOf(fact.table.rows.length), fact.table.span)] : []),
    ];
  }));
}

function headOf({ what, qualifiers, of, date }: MeasuredFact): string {
  return [what.text, ...qualifiers.map((q) => q.text), ...(of ? [`for ${of.text}`] : []), ...(date ? [`on ${date.text}`] : [])].join(" ");
}

interface Entry {
  readonly canonical: string;
  readonly label: string;
  readonly stated: Stated;
  readonly fact: unknown;
}
type Listing = ReadonlyMap<string, Entry>;

/** Things of one name are told apart by their order. */
function keyed(entries: readonly (readonly [string, Entry])[]): Listing {
  const counts = new Map<string, number>();
  return new Map(entries.map(([key, entry]) => {
    const n = (counts.get(key) ?? 0) + 1;
    counts.set(key, n);
    return [n === 1 ? key : `${key} (${n})`, entry];
  }));
}

function listed(sort: ChangeSort, before: EffectiveBuild, after: EffectiveBuild, list: (build: EffectiveBuild) => Listing): Change[] {
  return between(sort, list(before), list(after));
}

function between(sort: ChangeSort, old: Listing, now: Listing): Change[] {
  return [...union(old.keys(), now.keys())].flatMap((key): Change[] => {
    const [a, b] = [old.get(key), now.get(key)];
    if (a && b && a.canonical === b.canonical) return [];
    return [{ sort, path: key, label: (b ?? a)?.label ?? key, ...(a && { from: a.stated }), ...(b && { to: b.stated }), respelt: false, facts: [a?.fact, b?.fact] }];
  });
}

function recordsOf({ subject }: EffectiveBuild): Listing {
  return keyed(subject.records.flatMap((record) => recordEntries(subject, record, "")));
}

/** Steps of a plan stand for themselves, so that one more step is one change; everything else counts whole. */
function recordEntries(subject: Declaration, record: RecordFact, within: string): [string, Entry][] {
  const { tree } = subject;
  const head = record.head.map((part) => sliceOf(tree, part.span)).join(" ");
  const label = [within, record.word, head, record.date && !head.includes(record.date.text) ? `on ${record.date.text}` : ""].filter((t) => t !== "").join(" ");
  if (record.word === "plan") return record.records.flatMap((r) => recordEntries(subject, r, ""));
  const text = sliceOf(tree, record.span);
  return [[label, { canonical: canonicalRecord(tree, record), label, stated: { text: text.length > MOST_TEXT ? `${text.slice(0, MOST_TEXT)} …` : text, origin: "", location: { tree, span: record.span } }, fact: record }]];
}

/** More of a record than this is no longer read at a glance. */
const MOST_TEXT = 160;

function checksOf({ subject }: EffectiveBuild): Listing {
  return keyed(subject.checks.map((c: CheckFact) => {
    const key = `check ${c.title !== undefined ? `"${c.title}"` : c.condition.path.text}`;
    const { path, op, operand } = c.condition;
    return [key, { canonical: `${path.text} ${op ?? ""} ${operand ? canonicalOperand(subject.tree, operand, kindAt(path.text)) : ""}`, label: key, stated: { text: sliceOf(subject.tree, c.condition.span), origin: "", location: { tree: subject.tree, span: c.span } }, fact: c }];
  }));
}

function waiversOf({ subject }: EffectiveBuild): Listing {
  return keyed(subject.waivers.map((w: WaiverFact) => {
    const key = ["waive", w.rule.text, w.path?.text ?? ""].filter((t) => t !== "").join(" ");
    return [key, { canonical: `${w.because?.trim() ?? ""}\n${w.until?.text ?? ""}\n${w.at ? w.at.map((p) => sliceOf(subject.tree, p.span)).join(" ") : ""}`, label: key, stated: { text: sliceOf(subject.tree, w.span), origin: "", location: { tree: subject.tree, span: w.span } }, fact: w }];
  }));
}

function shopChanges(before: Declaration | undefined, after: Declaration | undefined): Change[] {
  const listing = (shop: Declaration | undefined): Listing =>
    shop
      ? keyed([
          ...shop.figures.map((f): [string, Entry] => [f.written, { canonical: canonicalValue(f.value), label: `shop ${f.written}`, stated: { text: plainValue(f.value), origin: "", location: { tree: shop.tree, span: f.span } }, fact: f }]),
          ...shop.records.map((r): [string, Entry] => [`${r.word} ${r.head.map((p) => sliceOf(shop.tree, p.span)).join(" ")}`, { canonical: [canonicalRecord(shop.tree, r), ...canonicalFigures(r.figures)].join("\n"), label: `shop ${r.word}`, stated: { text: sliceOf(shop.tree, r.span).slice(0, MOST_TEXT), origin: "", location: { tree: shop.tree, span: r.span } }, fact: r }]),
        ])
      : new Map();
  return between("shop", listing(before), listing(after));
}

function union(a: Iterable<string>, b: Iterable<string>): Set<string> {
  return new Set([...a, ...b]);
}
