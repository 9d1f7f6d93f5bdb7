// Two states of one build, an edit apart: which of the things that work looks at read otherwise now, and where a place of the earlier text lies in
// the later one. Whatever cannot be told for certain counts as changed. Knows facts and their places, not what they mean.
import type { DeclarationTree, Span } from "../../grammar/tree.ts";
import { type Declaration, LISTS_OF_FACTS, type Location } from "./declaration.ts";
import { ALL_SLOTS, type EffectiveBuild, type Provided, type ProvidedTable, type Slot } from "./effective.ts";
import type { DataFile } from "./project.ts";
import { Changes, WHOLE_TEXT } from "./reads.ts";

/** One declaration before and after: the text from `start` to `end` was replaced, and what follows moved by `by`. */
export class Edited {
  readonly from: Declaration;
  readonly to: Declaration;
  readonly #start: number;
  readonly #end: number;
  readonly #by: number;

  constructor(from: Declaration, to: Declaration) {
    this.from = from;
    this.to = to;
    const [a, b] = [from.tree.text, to.tree.text];
    const most = Math.min(a.length, b.length);
    let start = 0;
    while (start < most && a.charCodeAt(start) === b.charCodeAt(start)) start++;
    let same = 0;
    while (same < most - start && a.charCodeAt(a.length - 1 - same) === b.charCodeAt(b.length - 1 - same)) same++;
    this.#start = start;
    this.#end = a.length - same;
    this.#by = b.length - a.length;
  }

  /** Where a place lies now: before the edit, behind it, or around all of it. Nothing for a place that the edit touches. */
  moved({ start, end }: Span): Span | undefined {
    if (end < this.#start) return { start, end };
    if (start > this.#end) return { start: start + this.#by, end: end + this.#by };
    return start < this.#start && end > this.#end ? { start, end: end + this.#by } : undefined;
  }

  /** True where a thing that stood in one place stands in the other, and not a letter of it was touched. */
  keeps(before: Span, after: Span): boolean {
    const by = before.end < this.#start ? 0 : before.start > this.#end ? this.#by : undefined;
    return by !== undefined && before.start + by === after.start && before.end + by === after.end;
  }
}

/** The declarations that two states of a build rest on and that differ, by their earlier state; with parts that are described inside them. */
export type Edits = ReadonlyMap<Declaration, { readonly to: Declaration; readonly edited: Edited }>;

/** Pairs declarations that were edited. Nothing where one was put for another, or came or went. */
export function editsBetween(before: readonly (Declaration | DataFile | undefined)[], after: readonly (Declaration | DataFile | undefined)[]): Edits | undefined {
  if (before.length !== after.length) return undefined;
  const edits = new Map<Declaration, { readonly to: Declaration; readonly edited: Edited }>();
  for (const [i, from] of before.entries()) {
    const to = after[i];
    if (from === to) continue;
    if (!isDeclaration(from) || !isDeclaration(to) || !sameHead(from, to)) return undefined;
    const edited = new Edited(from, to);
    edits.set(from, { to, edited });
    for (const [n, fit] of from.fits.entries()) {
      const inline = to.fits[n]?.inline;
      if (fit.inline && inline) edits.set(fit.inline, { to: inline, edited });
    }
  }
  return edits;
}

function isDeclaration(what: Declaration | DataFile | undefined): what is Declaration {
  return what !== undefined && "tree" in what;
}

/** What a declaration is, and is for: with other words here everything may be otherwise. */
function sameHead(a: Declaration, b: Declaration): boolean {
  return a.sort === b.sort && a.kind === b.kind && a.block === b.block && a.name?.text === b.name?.text && a.title === b.title && a.docs === b.docs && a.on?.text === b.on?.text && a.kindName?.text === b.kindName?.text && a.sort !== "shop";
}

/** What reads otherwise in the later state, by the names that it is looked at under; nothing where everything may. */
export function changedBetween(before: EffectiveBuild, after: EffectiveBuild, edits: Edits): Changes | undefined {
  const same = new Sameness(edits);
  if (before.shop !== after.shop || !same.declaration(before.subject, after.subject) || !same.declaration(before.engine, after.engine)) return undefined;
  const changed = new Set<string>([WHOLE_TEXT]);
  for (const edited of new Set([...edits.values()].map((e) => e.edited))) {
    // Places in a head are pointed at: a head that was touched is another.
    for (const place of ["name", "on", "kindName"] as const) if (!same.value(edited.from[place], edited.to[place], edited)) return undefined;
    if (!same.value(edited.from.wordSpan, edited.to.wordSpan, edited)) return undefined;
    for (const list of LISTS_OF_FACTS) if (!changed.has(list) && !same.value(edited.from[list], edited.to[list], edited)) changed.add(list);
  }
  for (const [path, slot] of after.slots) if (!same.slot(before.slots.get(path), slot)) changed.add(path);
  for (const path of before.slots.keys()) if (!after.slots.has(path)) changed.add(path);
  const order = [...before.slots.keys()];
  let at = 0;
  for (const path of after.slots.keys()) if (order[at++] !== path) changed.add(ALL_SLOTS);
  if (at !== order.length || [...changed].some((name) => before.slots.has(name) || after.slots.has(name))) changed.add(ALL_SLOTS);
  const own = edits.get(before.subject)?.edited;
  if (!sameList(before.parts, after.parts, (a, b) => a.kind === b.kind && a.kindId === b.kindId && a.side === b.side && a.words === b.words && same.declaration(a.declaration, b.declaration) && same.value(a.fit, b.fit, own))) changed.add("build.parts");
  if (!sameList(before.cards, after.cards, (a, b) => same.declaration(a.declaration, b.declaration) && same.value(a.follow, b.follow, own))) changed.add("build.cards");
  if (!sameList([...before.tables], [...after.tables], ([a, x], [b, y]) => a === b && same.table(x, y))) changed.add("build.tables");
  if (!sameList(before.said, after.said, (a, b) => a === b)) changed.add("build.said");
  if (!sameList(before.fasteners, after.fasteners, (a, b) => a === b)) changed.add("build.fasteners");
  if (changed.has("measured")) changed.add("build.measured");
  if (!sameList(before.recordings ?? [], after.recordings ?? [], (a, b) => a.key === b.key && a.outcome === b.outcome && a.behind === b.behind && same.value(a.record, b.record, own))) changed.add("build.recordings");
  return new Changes(changed);
}

function sameList<T>(a: readonly T[], b: readonly T[], same: (a: T, b: T) => boolean): boolean {
  return a.length === b.length && a.every((one, i) => same(one, b[i] as T));
}

/** Whether things of the earlier state are those of the later one, moved at the most. */
class Sameness {
  readonly #edits: Edits;
  readonly #values = new Map<object, object>();

  constructor(edits: Edits) {
    this.#edits = edits;
  }

  declaration(a: Declaration | undefined, b: Declaration | undefined): boolean {
    return a === b || (a !== undefined && b !== undefined && this.#edits.get(a)?.to === b);
  }

  slot(a: Slot | undefined, b: Slot | undefined): boolean {
    return a !== undefined && b !== undefined && a.path === b.path && a.key === b.key && a.from === b.from && sameList(a.chain, b.chain, (x, y) => this.#provided(x, y));
  }

  #provided(a: Provided, b: Provided): boolean {
    return a.role === b.role && a.origin.words === b.origin.words && this.declaration(a.origin.declaration, b.origin.declaration) && this.value(a.fact, b.fact, this.#edits.get(a.origin.declaration)?.edited);
  }

  table(a: ProvidedTable, b: ProvidedTable): boolean {
    return a.file === b.file && this.declaration(a.origin.declaration, b.origin.declaration) && this.value(a.fact, b.fact, this.#edits.get(a.origin.declaration)?.edited) && this.value(a.location.span, b.location.span, this.#edits.get(a.origin.declaration)?.edited);
  }

  /** Facts are plain data with places in one text; a place must be the same untouched stretch of it. Without an edit nothing but itself is the same. */
  value(a: unknown, b: unknown, edited: Edited | undefined): boolean {
    if (a === b) return true;
    if (edited === undefined || typeof a !== "object" || typeof b !== "object" || a === null || b === null) return Object.is(a, b);
    if (a === edited.from.tree) return b === edited.to.tree;
    const known = this.#values.get(a);
    if (known !== undefined) return known === b;
    if (!this.#alike(a as Readonly<Record<string, unknown>>, b as Readonly<Record<string, unknown>>, edited)) return false;
    this.#values.set(a, b);
    return true;
  }

  #alike(a: Readonly<Record<string, unknown>>, b: Readonly<Record<string, unknown>>, edited: Edited): boolean {
    const isList = Array.isArray(a);
    if (isList !== Array.isArray(b) || Object.getPrototypeOf(a) !== Object.getPrototypeOf(b)) return false;
    if (isList) return sameList(a as readonly unknown[], b as unknown as readonly unknown[], (x, y) => this.value(x, y, edited));
    if (Object.getPrototypeOf(a) !== Object.prototype) return false;
    if (isSpan(a)) return isSpan(b) && edited.keeps(a, b);
    // What is said under one key in one untouched stretch of text is the same: it is lowered from nothing else.
    const [before, after] = [a["span"], b["span"]];
    if (a["key"] !== undefined && a["key"] === b["key"] && a["path"] === b["path"] && a["docs"] === b["docs"] && a["shared"] === b["shared"] && isSpan(a["keySpan"]) && isSpan(b["keySpan"]) && isSpan(before) && isSpan(after))
      return edited.keeps(a["keySpan"], b["keySpan"]) && edited.keeps(before, after);
    let count = 0;
    for (const key in a) {
      if (!Object.hasOwn(b, key) || !this.value(a[key], b[key], edited)) return false;
      count++;
    }
    for (const _ in b) count--;
    return count === 0;
  }
}

function isSpan(what: unknown): what is Span {
  if (typeof what !== "object" || what === null) return false;
  const { start, end } = what as Partial<Span>;
  if (typeof start !== "number" || typeof end !== "number") return false;
  let count = 0;
  for (const _ in what) count++;
  return count === 2;
}

/** Where a place lies in the later state; nothing where the edit touches it. */
export function movedBy(edits: Edits): (at: Location) => Location | undefined {
  const byTree = new Map<DeclarationTree, Edited>([...edits.values()].map(({ edited }) => [edited.from.tree, edited]));
  return (at) => {
    const edited = byTree.get(at.tree);
    const span = edited?.moved(at.span);
    return edited === undefined ? at : span && { tree: edited.to.tree, span };
  };
}
