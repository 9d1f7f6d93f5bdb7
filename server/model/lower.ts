// One declaration's tree lowered to flat facts by the schema. Knows one declaration at a time; names are resolved in project.ts.
import type { Block, DeclarationTree, Entry, Item, Part, Phrase, Row, Span, Text } from "../../grammar/tree.ts";
import { ENGINE_BLOCK_NAMES, type Place, type Step, descend, keyIn, nearest, partKindOf, phraseOf, placeAt, qualifierSet, rowLandsIn } from "../schema/lookup.ts";
import { MEASUREMENTS, measurementOf } from "../schema/measurements.ts";
import { PART_KINDS } from "../schema/parts/index.ts";
import type { BlockSchema, KeySchema, PartKind } from "../schema/types.ts";
import type { CheckFact, Condition, Declaration, FastenerFact, FigureFact, FitFact, FollowFact, ListOfFacts, MeasuredFact, NeedFact, RecordBlock, RecordFact, Reference, ScopeFact, Side, Sort, WaiverFact } from "./declaration.ts";
import type { TextProblem } from "./problem.ts";
import { type Reading, type ReadingTable, readTable } from "./reading.ts";
import { looked } from "./reads.ts";
import { isRealDate, oneOf, readEntry } from "./value.ts";
import { capital } from "../quantity/spoken.ts";

const PART_NAMES: readonly string[] = PART_KINDS.map((kind) => kind.id);

/** Areas of an engine that a card may be good for: its blocks, and its fasteners. */
const AREAS: readonly string[] = [...ENGINE_BLOCK_NAMES, "fasteners"];

type Draft = {
  -readonly [K in keyof Declaration]: Declaration[K] extends readonly (infer T)[] ? T[] : Declaration[K];
};

interface Where {
  /** The block and where its figures land in the effective build. */
  readonly place: Place;
  /** Path as written inside the declaration. */
  readonly written: string;
  readonly within: Span;
  /** Inside a record: where its blocks are gathered. */
  readonly blocks?: RecordBlock[];
}

/** Lowers one tree. Total: whatever the text, facts come back, with problems where it fits nowhere. */
export function lower(tree: DeclarationTree): Declaration {
  const phrase = tree.phrase;
  const draft = emptyDraft(tree, phrase);
  const strays = tree.stray.filter((item) => item.kind !== "junk");
  const isStray = overlapping(strays.map((item) => item.span));
  const hasProblem = overlapping(tree.problems.map((p) => p.span));
  for (const p of tree.problems)
    draft.problems.push({ code: p.code === "syntax" && isStray(p.span) ? "stray" : p.code, message: p.message, span: p.span, fixes: p.fix ? [{ title: p.fix.title, safe: true, edits: [{ span: p.fix.span, text: p.fix.text }] }] : [] });
  for (const item of strays)
    if (!hasProblem(item.span)) draft.problems.push(problem("stray", "This stands outside any declaration. Put it inside an engine, part, card or build.", firstLine(item)));
  if (phrase) lowerDeclaration(draft, phrase);
  return new Lowered(draft);
}

/** A declaration that says which of its lists are looked at; a part described on the spot is looked at through its fit. */
class Lowered implements Declaration {
  readonly tree: DeclarationTree;
  readonly sort: Sort;
  declare readonly kind?: PartKind;
  declare readonly kindName?: Text;
  declare readonly name?: Text;
  declare readonly title?: string;
  readonly docs: string;
  readonly span: Span;
  readonly wordSpan: Span;
  declare readonly block?: BlockSchema;
  declare readonly on?: Text;
  declare readonly path?: Text;
  readonly #lists: Pick<Declaration, ListOfFacts>;

  constructor(draft: Draft) {
    this.tree = draft.tree;
    this.sort = draft.sort;
    if (draft.kind) this.kind = draft.kind;
    if (draft.kindName) this.kindName = draft.kindName;
    if (draft.name) this.name = draft.name;
    if (draft.title !== undefined) this.title = draft.title;
    this.docs = draft.docs;
    this.span = draft.span;
    this.wordSpan = draft.wordSpan;
    if (draft.block) this.block = draft.block;
    if (draft.on) this.on = draft.on;
    if (draft.path) this.path = draft.path;
    this.#lists = draft;
  }

  get scopes() { looked("scopes"); return this.#lists.scopes; }
  get figures() { looked("figures"); return this.#lists.figures; }
  get tables() { looked("tables"); return this.#lists.tables; }
  get fits() { looked("fits"); return this.#lists.fits; }
  get follows() { looked("follows"); return this.#lists.follows; }
  get needs() { looked("needs"); return this.#lists.needs; }
  get checks() { looked("checks"); return this.#lists.checks; }
  get waivers() { looked("waivers"); return this.#lists.waivers; }
  get measured() { looked("measured"); return this.#lists.measured; }
  get fasteners() { looked("fasteners"); return this.#lists.fasteners; }
  get records() { looked("records"); return this.#lists.records; }
  get loose() { looked("loose"); return this.#lists.loose; }
  get references() { looked("references"); return this.#lists.references; }
  get problems() { looked("problems"); return this.#lists.problems; }
}

/** Whether a span overlaps any of these, found without looking at each: a damaged file may have very many. */
function overlapping(spans: readonly Span[]): (span: Span) => boolean {
  const sorted = [...spans].sort((a, b) => a.start - b.start);
  const reach: number[] = [];
  for (const s of sorted) reach.push(Math.max(s.end, reach[reach.length - 1] ?? 0));
  return (span) => {
    let low = 0;
    let high = sorted.length;
    while (low < high) {
      const mid = (low + high) >> 1;
      if ((sorted[mid] as Span).start < span.end) low = mid + 1;
      else high = mid;
    }
    return low > 0 && (reach[low - 1] as number) > span.start;
  };
}

function emptyDraft(tree: DeclarationTree, phrase: Phrase | undefined): Draft {
  return {
    tree, sort: "none", docs: textOfDocs(phrase?.docs ?? []), span: phrase?.span ?? { start: 0, end: 0 }, wordSpan: phrase?.word.span ?? { start: 0, end: 0 },
    scopes: [], figures: [], tables: [], fits: [], follows: [], needs: [], checks: [], waivers: [], measured: [], fasteners: [], records: [], loose: [], references: [], problems: [],
  };
}

function textOfDocs(docs: readonly Text[]): string {
  return docs.length === 0 ? "" : docs.map((d) => d.text).join("\n");
}

const SORTS: Readonly<Record<string, Sort>> = { engine: "engine", part: "part", card: "card", build: "build", shop: "shop", use: "use" };

function lowerDeclaration(draft: Draft, phrase: Phrase): void {
  const sort = SORTS[phrase.word.text];
  if (!sort) {
    draft.problems.push(problem("unknown-kind", `\`${phrase.word.text}\` begins no declaration. A file holds use, engine, part, card, build and shop.`, phrase.word.span,
      nearest(phrase.word.text, Object.keys(SORTS)).map((n) => replaceFix(phrase.word.span, n))));
    return;
  }
  draft.sort = sort;
  const head = [...phrase.head];
  if (sort === "use") {
    const file = head.find((p) => p.kind === "string");
    if (file?.kind === "string") {
      draft.path = { text: file.text, span: file.span };
      draft.references.push({ of: "file", name: draft.path, role: "use" });
    } else draft.problems.push(problem("syntax", 'Write the file to use in quotes: use "engines/dunlin-18.tappet".', phrase.span));
    return;
  }
  if (sort === "part") {
    const kind = head[0];
    if (kind?.kind === "word") {
      head.shift();
      draft.kindName = { text: kind.text, span: kind.span };
      const known = partKindOf(kind.text);
      if (known) draft.kind = known;
      else draft.problems.push(problem("unknown-kind", `\`${kind.text}\` is no kind of part that is known here.${didYouMean(kind.text, PART_NAMES)}`, kind.span, nearest(kind.text, PART_NAMES).map((n) => replaceFix(kind.span, n))));
    }
  }
  const name = head[0];
  if (name?.kind === "word" && !["for", "on"].includes(name.text)) {
    head.shift();
    draft.name = { text: name.text, span: name.span };
  } else if (sort !== "shop")
    draft.problems.push(problem("name-missing", `This ${sort} has no name. Write one after the word${sort === "part" ? " and its kind" : ""}: a short word such as \`dunlin-18\`.`, phrase.word.span));
  readDeclarationHead(draft, head);
  const place = placeAt([{ word: sort, ...(draft.kindName && { of: draft.kindName.text }), ...(draft.name && { name: draft.name.text }) }]);
  if (!phrase.block) {
    draft.problems.push(problem("block-missing", `This ${sort} has no block. Open one with { after its head.`, phrase.word.span));
    return;
  }
  if (!place) return;
  draft.block = place.block;
  const where: Where = { place, written: "", within: phrase.span };
  lowerBlock(draft, phrase.block, where);
  requireKeys(draft, where, draft.name?.span ?? draft.wordSpan, draft.figures);
}

/** `"Title" for dunlin-18 bottom-end on dunlin-18`, in any order. */
function readDeclarationHead(draft: Draft, head: readonly Part[]): void {
  let role: "for" | "on" | undefined;
  const scopes: { engine: Text; areas: Text[] }[] = [];
  for (const part of head) {
    if (part.kind === "string" && draft.title === undefined) draft.title = part.text;
    else if (part.kind === "word" && (part.text === "for" || part.text === "on")) role = part.text;
    else if (part.kind === "word" && role === "on") {
      draft.on = { text: part.text, span: part.span };
      draft.references.push({ of: "engine", name: draft.on, role: "on" });
      role = undefined;
    } else if (part.kind === "word" && role === "for") {
      const last = scopes[scopes.length - 1];
      if (last && AREAS.includes(part.text)) last.areas.push({ text: part.text, span: part.span });
      else {
        const engine = { text: part.text, span: part.span };
        scopes.push({ engine, areas: [] });
        if (part.text !== "any") draft.references.push({ of: "engine", name: engine, role: "for" });
      }
    } else draft.problems.push(problem("unknown-word", `This does not belong in the head of ${article(draft.sort)}. After the name come a title in quotes${draft.sort === "build" ? " and `on` with an engine" : draft.sort === "engine" || draft.sort === "shop" ? "" : " and `for` with an engine"}.`, part.span));
  }
  for (const one of scopes) draft.scopes.push(one);
}

function lowerBlock(draft: Draft, block: Block, where: Where, into: FigureFact[] = draft.figures): { rows: Row[]; table?: ReadingTable; readings: Reading[] } {
  const rows: Row[] = [];
  const seen = new Map<string, Entry>();
  let last: Item | undefined;
  for (const [i, item] of block.items.entries()) {
    const next = block.items[i + 1];
    const spaced = item.kind === "phrase" && next?.kind === "entry" ? spacedKey(draft, item, next, where) : undefined;
    if (spaced) {
      draft.problems.push(spaced);
      last = next;
    } else if (item === last) continue;
    else if (item.kind === "entry") {
      const before = seen.get(item.key.text);
      if (before) draft.problems.push(problem("repeated-key", `\`${item.key.text}\` stands twice in this block; the later one counts. Keep one.`, item.key.span));
      seen.set(item.key.text, item);
      lowerEntry(draft, item, where, into);
    } else if (item.kind === "phrase") lowerPhrase(draft, item, where, into);
    else if (item.kind === "row") rows.push(item);
    else if (item.kind === "hole") draft.problems.push(problem("not-filled-in", "This block is not filled in yet.", item.span));
  }
  if (rows.length === 0) return { rows, readings: [] };
  if (!where.place.block.table) {
    draft.problems.push(problem("unknown-key", `No table is known in \`${where.written || draft.sort}\`.`, rows[0]?.span ?? block.span));
    return { rows, readings: [] };
  }
  const read = readTable(rows, where.place.block.table, where.place.block);
  for (const one of read.problems) draft.problems.push(one);
  const file = [...seen.values()].find((entry) => keyIn(where.place.block, entry.key.text)?.type.is === "file");
  if (file) draft.problems.push(problem("repeated-key", "This block holds a table and names a file that holds one as well; the table written here counts. Keep one.", file.key.span));
  // A fit says how a part is set, not what it is: tables are the part's own.
  const { base } = where.place;
  if (base && !base.startsWith(FIT_BASE)) draft.tables.push({ path: base, table: read.table, span: read.table.span });
  return { rows, table: read.table, readings: read.readings };
}

/** `gear teeth: 38`, as a card prints it: one key whose words stand apart. */
function spacedKey(draft: Draft, phrase: Phrase, entry: Entry, where: Where): TextProblem | undefined {
  if (phrase.block) return undefined;
  const span = { start: phrase.span.start, end: entry.key.span.end };
  const words = draft.tree.text.slice(span.start, span.end);
  const key = words.replace(/[ \t]+/g, "-");
  if (!keyIn(where.place.block, key)) return undefined;
  return problem("unknown-key", `\`${words}\` is one word with a dash: write \`${key}\`.`, span, [replaceFix(span, key)]);
}

function lowerEntry(draft: Draft, entry: Entry, where: Where, into: FigureFact[]): void {
  const key = keyIn(where.place.block, entry.key.text);
  if (!key) {
    if (where.place.block.open) {
      draft.loose.push({ block: where.place.block.id, key: entry.key, value: entry.values.flatMap((v) => v.parts), span: entry.span });
      return;
    }
    const names = [...where.place.block.keys.map((k) => k.key), ...Object.keys(where.place.block.blocks ?? {})];
    draft.problems.push(problem("unknown-key", `\`${entry.key.text}\` is no key of ${blockName(draft, where)}.${didYouMean(entry.key.text, names)}`, entry.key.span,
      nearest(entry.key.text, names).map((n) => replaceFix(entry.key.span, n))));
    return;
  }
  const paths = pathsOf(where, key);
  const { value, problems } = readEntry(entry.values, key, entry.key.span, paths[0] as string);
  for (const one of problems) draft.problems.push(one);
  if (!value) return;
  if (value.is === "name" && key.type.is === "name" && key.type.of) draft.references.push({ of: key.type.of, name: value.name, role: key.key });
  const docs = textOfDocs(entry.docs);
  const written = join(where.written, key.key);
  const keySpan = entry.key.span;
  const span = valueSpan(entry);
  const [path, ...further] = paths as readonly [string, ...string[]];
  if (further.length === 0) into.push({ path, written, key, value, keySpan, span, docs });
  // A figure given once for both sides (a rocker's ratio) lands on each.
  else for (const each of paths) into.push({ path: each, written, key, value, keySpan, span, docs, shared: true });
}

function lowerPhrase(draft: Draft, phrase: Phrase, where: Where, into: FigureFact[]): void {
  const word = phrase.word.text;
  const sub = where.place.block.blocks?.[word];
  if (sub) {
    lowerSubBlock(draft, phrase, where, into);
    return;
  }
  const statements = where.place.block.statements ?? [];
  // A waiver stands beside the thing it is about, whatever block that is in.
  if (statements.includes(word) || word === "waive") {
    lowerStatement(draft, phrase, where, into);
    return;
  }
  const names = [...Object.keys(where.place.block.blocks ?? {}), ...statements, ...where.place.block.keys.map((k) => k.key)];
  const asKey = where.place.block.keys.some((k) => k.key === word);
  draft.problems.push(problem("unknown-key", asKey ? `\`${word}\` is a key: write \`${word}:\` before its value.` : `\`${word}\` is not known in ${blockName(draft, where)}.${didYouMean(word, names) || itsPlace(word)}`, phrase.word.span,
    asKey ? [{ title: `Write ${word}:`, safe: true, edits: [{ span: phrase.word.span, text: `${word}:` }] }] : nearest(word, names).map((n) => replaceFix(phrase.word.span, n))));
}

function lowerSubBlock(draft: Draft, phrase: Phrase, where: Where, into: FigureFact[]): void {
  const word = phrase.word.text;
  const side = sideOf(phrase.head);
  const named = phrase.head.find((p) => p.kind === "word" && p.text !== "for" && p.text !== side);
  const step: Step = { word, ...(side && { side }), ...(named?.kind === "word" && { name: named.text }) };
  const place = descend(where.place, step);
  if (!place) return;
  if (!phrase.block) {
    draft.problems.push(problem("block-missing", `\`${word}\` has no block. Open one with { … }.`, phrase.word.span));
    return;
  }
  const inner: Where = { place, written: join(join(where.written, word), side ?? ""), within: phrase.span };
  const before = into.length;
  const { table } = lowerBlock(draft, phrase.block, inner, into);
  where.blocks?.push({ word, figures: into.slice(before), ...(table && { table }), span: phrase.span });
  requireKeys(draft, inner, phrase.word.span, into);
}

function lowerStatement(draft: Draft, phrase: Phrase, where: Where, into: FigureFact[]): void {
  const head = phrase.head;
  const span = phrase.span;
  switch (phrase.word.text) {
    case "fit": {
      draft.fits.push(lowerFit(draft, phrase, where));
      return;
    }
    case "follow": {
      const name = nameAt(draft, phrase, 0, "the card to follow");
      if (!name) return;
      draft.follows.push({ name, span } satisfies FollowFact);
      draft.references.push({ of: "card", name, role: "follow" });
      return;
    }
    case "needs": {
      const what = nameAt(draft, phrase, 0, "what is needed");
      if (!what) return;
      const after = wordAfter(head, "after");
      draft.needs.push({ what, where: conditionsOf(draft, partsAfter(head, "where", ["after"])), ...(after && { after }), span } satisfies NeedFact);
      return;
    }
    case "check": {
      const title = head[0]?.kind === "string" ? head[0].text : undefined;
      const [condition] = conditionsOf(draft, title === undefined ? head : head.slice(1));
      if (condition) draft.checks.push({ ...(title !== undefined && { title }), condition, span } satisfies CheckFact);
      else draft.problems.push(problem("syntax", 'A check compares a figure with a limit: check "cast pistons" piston-speed.mean <= 20 m/s.', span));
      return;
    }
    case "waive": {
      const rule = nameAt(draft, phrase, 0, "the finding to waive");
      if (!rule) return;
      const second = wordPart(wordAfter(head, "for")) ?? head[1];
      const because = partsAfter(head, "because", ["until", "at"]).find((p) => p.kind === "string");
      const until = partsAfter(head, "until", ["because", "at"])[0];
      const at = partsAfter(head, "at", ["because", "until"]);
      if (until && until.kind !== "date") draft.problems.push(problem("wrong-form", "After `until` comes a date, year first: until 2027-09-01.", until.span));
      else if (until?.kind === "date" && !isRealDate(until.text)) draft.problems.push(problem("impossible-date", `${until.text} is not a day of the calendar.`, until.span));
      draft.waivers.push({
        rule, ...(second?.kind === "word" && !["because", "until", "at", "for"].includes(second.text) && { path: { text: second.text, span: second.span } }),
        ...(because?.kind === "string" && { because: because.text }), ...(until?.kind === "date" && { until: { text: until.text, span: until.span } }), ...(at.length > 0 && { at }),
        within: where.within, span,
      } satisfies WaiverFact);
      return;
    }
    case "measured": {
      lowerMeasured(draft, phrase, where);
      return;
    }
    case "fastener": {
      const name = nameAt(draft, phrase, 0, "what it holds, such as `head-bolt`");
      if (!name) return;
      const place = descend(where.place, { word: "fastener", name: name.text });
      if (!place) return;
      if (!phrase.block) {
        draft.problems.push(problem("block-missing", `\`fastener ${name.text}\` has no block. Open one with { … }.`, name.span));
        return;
      }
      draft.fasteners.push({ name, span } satisfies FastenerFact);
      const inner: Where = { place, written: join(where.written, `fastener.${name.text}`), within: span };
      lowerBlock(draft, phrase.block, inner, into);
      requireKeys(draft, inner, name.span, into);
      return;
    }
    default:
      draft.records.push(lowerRecord(draft, phrase, where));
  }
}

function lowerFit(draft: Draft, phrase: Phrase, where: Where): FitFact {
  const head = [...phrase.head];
  const first = head[0]?.kind === "word" ? head[0] : undefined;
  const side = sideOf(head);
  const figures: FigureFact[] = [];
  const date = head.find((p) => p.kind === "date");
  if (date?.kind === "date" && !isRealDate(date.text)) draft.problems.push(problem("impossible-date", `${date.text} is not a day of the calendar.`, date.span));
  const result = { ...(side && { side }), ...(date?.kind === "date" && { date: { text: date.text, span: date.span } }), figures, span: phrase.span, ...(phrase.block && { block: phrase.block.span }) };
  if (!first) {
    draft.problems.push(problem("name-missing", "Say what is fitted: fit ridgeway-272.", phrase.word.span));
    return result;
  }
  const kind = partKindOf(first.text);
  const second = head[1];
  if (kind && phrase.block && (second === undefined || second.kind === "string" || (second.kind === "word" && !["for", "at"].includes(second.text)))) {
    // A part described on the spot: fit retainer "Ridgeway light" { … }.
    const inline = emptyDraft(draft.tree, phrase);
    inline.sort = "part";
    inline.kind = kind;
    inline.kindName = { text: first.text, span: first.span };
    if (second?.kind === "word") inline.name = { text: second.text, span: second.span };
    const title = head.find((p) => p.kind === "string");
    if (title?.kind === "string") inline.title = title.text;
    inline.block = kind;
    const place = placeAt([{ word: "build" }, { word: "fit", of: kind.id, ...(inline.name && { name: inline.name.text }), ...(side && { side }) }]) ?? { block: kind, base: kind.base ?? kind.id, side };
    lowerBlock(inline, phrase.block, { place, written: first.text, within: phrase.span });
    for (const one of inline.problems) draft.problems.push(one);
    inline.problems.length = 0;
    for (const one of inline.waivers) draft.waivers.push(one);
    for (const one of inline.references) draft.references.push(one);
    return { ...result, ...(inline.name && { name: inline.name }), inline };
  }
  const name = { text: first.text, span: first.span };
  if (kind && !phrase.block) {
    // `fit retainer`: a kind without a description is a part of which nothing is known yet.
    const inline = emptyDraft(draft.tree, phrase);
    inline.sort = "part";
    inline.kind = kind;
    inline.kindName = name;
    inline.block = kind;
    const title = head.find((p) => p.kind === "string");
    if (title?.kind === "string") inline.title = title.text;
    return { ...result, inline };
  }
  draft.references.push({ of: "part", name, role: "fit" });
  if (phrase.block) {
    // Which kind the part is of is known only when names are resolved: read the block against every kind's fit keys.
    lowerBlock(draft, phrase.block, { place: { block: FIT_BLOCK, base: FIT_BASE, side }, written: `fit ${first.text}`, within: phrase.span }, figures);
  }
  return { ...result, name };
}

/** Figures set in a fit's block land under this until the part's kind is known (see project.ts). */
export const FIT_BASE = "<fitted>";

const FIT_BLOCK: BlockSchema = {
  id: "fit", words: "How the part is set.", statements: ["waive", "note", "photo", "document"],
  keys: [...new Map(PART_KINDS.flatMap((kind) => [...kind.keys.map((k) => ({ ...k, required: false })), ...(kind.fitKeys ?? [])]).map((k) => [k.key, k])).values()],
};

/** A reading without its state (cold or hot, crank or cam) says little: one word is wanted in the head, on every figure, or in the table's heading. */
function requireQualifiers(draft: Draft, phrase: Phrase, sets: readonly string[], what: Text, inHead: readonly Text[], figures: readonly FigureFact[]): void {
  for (const id of sets) {
    const set = qualifierSet(id);
    if (!set) continue;
    const words = Object.keys(set.options);
    if (inHead.some((q) => words.includes(q.text) || q.text === "unstated") || words.some((w) => w.includes(" ") && inHead.map((q) => q.text).join(" ").includes(w))) continue;
    const readings = figures.filter((f) => f.value.is === "quantity" && f.key.mayQualify?.includes(id));
    if (readings.length > 0 && readings.every((f) => f.value.is === "quantity" && f.value.qualifiers[id] !== undefined)) continue;
    const headings = phrase.block?.items.flatMap((i) => (i.kind === "row" ? i.cells.flatMap((c) => c.words.map((w) => w.text)) : [])) ?? [];
    if (headings.some((w) => words.includes(w))) continue;
    draft.problems.push(problem("qualifier-missing", `These readings of ${what.text} need one more word, ${oneOf(words)} (or unstated), such as \`measured ${what.text} ${words[0]} on …\`. It ${set.words}.`, what.span,
      [...words, "unstated"].map((w) => ({ title: `Add ${w}`, safe: false, edits: [{ span: { start: what.span.end, end: what.span.end }, text: ` ${w}` }] }))));
  }
}

function measuredWhere(where: Where, what: string, within: Span): Where {
  return { place: descend(where.place, { word: "measured", of: what }) ?? { block: { id: what, words: "", keys: [] }, base: undefined, side: undefined }, written: `measured ${what}`, within };
}

const MEASURABLE = MEASUREMENTS.map((m) => m.id);

function lowerMeasured(draft: Draft, phrase: Phrase, where: Where): void {
  const what = nameAt(draft, phrase, 0, "what was measured");
  if (!what) return;
  const measurement = measurementOf(what.text);
  const qualifiers: Text[] = [];
  const of = wordAfter(phrase.head, "for");
  let date: Text | undefined;
  for (const part of phrase.head.slice(1)) {
    if (part.kind === "word" && (part.text === "for" || (of && part.span.start === of.span.start))) continue;
    if (part.kind === "date") date = { text: part.text, span: part.span };
    else if (part.kind === "word" && part.text !== "on") qualifiers.push({ text: part.text, span: part.span });
  }
  if (date && !isRealDate(date.text)) draft.problems.push(problem("impossible-date", `${date.text} is not a day of the calendar.`, date.span));
  if (!measurement) {
    draft.problems.push(problem("unknown-key", `\`${what.text}\` is nothing that is known here to measure.${didYouMean(what.text, MEASURABLE)}`, what.span, nearest(what.text, MEASURABLE).map((n) => replaceFix(what.span, n))));
    return;
  }
  const figures: FigureFact[] = [];
  const before = draft.problems.length;
  const body = phrase.block
    ? lowerBlock(draft, phrase.block, measuredWhere(where, what.text, phrase.span), figures)
    : { readings: [], table: undefined };
  if (draft.problems.length === before) requireQualifiers(draft, phrase, measurement.qualifiers ?? [], what, qualifiers, figures);
  draft.measured.push({ what, qualifiers, ...(of && { of }), ...(date && { date }), readings: body.readings, ...(body.table && { table: body.table }), figures, span: phrase.span } satisfies MeasuredFact);
}

function lowerRecord(draft: Draft, phrase: Phrase, where: Where): RecordFact {
  const word = phrase.word.text;
  const figures: FigureFact[] = [];
  const place = descend(where.place, { word });
  const date = phrase.head.find((p) => p.kind === "date");
  if (date?.kind === "date" && !isRealDate(date.text)) draft.problems.push(problem("impossible-date", `${date.text} is not a day of the calendar.`, date.span));
  const records: RecordFact[] = [];
  const blocks: RecordBlock[] = [];
  let table: ReadingTable | undefined;
  if (phrase.block && place) {
    const before = draft.records.length;
    const body = lowerBlock(draft, phrase.block, { place, written: word, within: phrase.span, blocks }, figures);
    records.push(...draft.records.splice(before));
    table = body.table;
  }
  return { word, head: phrase.head, ...(date?.kind === "date" && { date: { text: date.text, span: date.span } }), figures, ...(table && { table }), blocks, records, span: phrase.span };
}

function conditionsOf(draft: Draft, parts: readonly Part[]): Condition[] {
  const conditions: Condition[] = [];
  for (let i = 0; i < parts.length; i++) {
    const part = parts[i] as Part;
    if (part.kind !== "word") {
      draft.problems.push(problem("syntax", "A condition begins with the figure it is about, such as coil-bind-margin >= 1.5 mm.", part.span));
      continue;
    }
    const next = parts[i + 1];
    const path = { text: part.text, span: part.span };
    if (next?.kind === "compare") {
      i++;
      const operand: Part[] = [next.operand];
      // Qualifiers of the operand: `>= 8 deg crank`. A further condition begins with a word that is followed by a comparison or stands last.
      while (parts[i + 1]?.kind === "word" && parts[i + 2]?.kind !== "compare" && parts[i + 1]?.kind === "word" && isQualifier(parts[i + 1] as Part)) operand.push(parts[++i] as Part);
      conditions.push({ path, op: next.op, operand, span: { start: part.span.start, end: operand[operand.length - 1]?.span.end ?? next.span.end } });
    } else conditions.push({ path, span: part.span });
  }
  return conditions;
}

const QUALIFIER_WORDS = new Set(["crank", "cam", "cold", "hot", "gauge", "absolute", "at", "valve", "lobe", "wheels", "dry", "oiled"]);
function isQualifier(part: Part): boolean {
  return part.kind === "word" && QUALIFIER_WORDS.has(part.text);
}

function requireKeys(draft: Draft, where: Where, at: Span, figures: readonly FigureFact[]): void {
  for (const key of where.place.block.keys) {
    if (!key.required) continue;
    const written = join(where.written, key.key);
    // A key that is there but could not be read already has its own finding.
    const path = pathsOf(where, key)[0];
    if (figures.some((f) => f.written === written) || draft.problems.some((p) => p.path === path)) continue;
    draft.problems.push(problem("missing-key", `${capital(blockName(draft, where))} has no \`${key.key}\`: ${lowerFirst(key.words)} Write for example \`${key.key}: ${key.example}\`.`, at));
  }
}

/** Where a key's figure lands; outside the overlay, the path as written. */
function pathsOf(where: Where, key: KeySchema): readonly string[] {
  const paths = rowLandsIn(where.place, key);
  return paths.length > 0 ? paths : [join(where.written, key.key)];
}

function wordPart(word: Text | undefined): Part | undefined {
  return word && { kind: "word", ...word };
}

function nameAt(draft: Draft, phrase: Phrase, index: number, what: string): Text | undefined {
  const part = phrase.head[index];
  if (part?.kind === "word" || part?.kind === "mark") return { text: part.text, span: part.span };
  draft.problems.push(problem("name-missing", `After \`${phrase.word.text}\` comes ${what}.`, part?.span ?? phrase.word.span));
  return undefined;
}

function sideOf(head: readonly Part[]): Side | undefined {
  const word = wordAfter(head, "for") ?? wordAfter(head, "at") ?? wordAfter(head, "on");
  return word?.text === "intake" || word?.text === "exhaust" ? word.text : undefined;
}

function wordAfter(head: readonly Part[], joiner: string): Text | undefined {
  const i = head.findIndex((p) => p.kind === "word" && p.text === joiner);
  const part = i >= 0 ? head[i + 1] : undefined;
  return part?.kind === "word" ? { text: part.text, span: part.span } : undefined;
}

function partsAfter(head: readonly Part[], joiner: string, stops: readonly string[]): readonly Part[] {
  const i = head.findIndex((p) => p.kind === "word" && p.text === joiner);
  if (i < 0) return [];
  const rest = head.slice(i + 1);
  const stop = rest.findIndex((p) => p.kind === "word" && stops.includes(p.text));
  return stop < 0 ? rest : rest.slice(0, stop);
}

function blockName(draft: Draft, where: Where): string {
  if (where.written) return `\`${where.written.replaceAll(".", " ")}\``;
  return draft.sort === "part" ? `a ${draft.kindName?.text ?? "part"}` : article(draft.sort);
}

function article(sort: string): string {
  return `${/^[aeiou]/.test(sort) ? "an" : "a"} ${sort}`;
}

/** Where a statement belongs that stands where it is not known. */
function itsPlace(word: string): string {
  const homes = ["engine", "card", "build", "plan", "shop"].filter((sort) => phraseOf(sort)?.block?.statements?.includes(word)).map(article);
  if (PART_KINDS.some((kind) => kind.statements?.includes(word))) homes.push("a part that is declared by itself");
  return homes.length > 0 ? ` It belongs in ${oneOf(homes)}.` : "";
}

function didYouMean(word: string, names: readonly string[]): string {
  const near = nearest(word, names);
  return near.length > 0 ? ` Did you mean ${near.map((n) => `\`${n}\``).join(" or ")}?` : "";
}

function replaceFix(span: Span, text: string): TextProblem["fixes"][number] {
  return { title: `Change to ${text}`, safe: false, edits: [{ span, text }] };
}

function problem(code: string, message: string, span: Span, fixes: TextProblem["fixes"] = []): TextProblem {
  return { code, message, span, fixes };
}

function join(path: string, word: string): string {
  return path === "" ? word : word === "" ? path : `${path}.${word}`;
}

function valueSpan(entry: Entry): Span {
  const first = entry.values[0];
  const last = entry.values[entry.values.length - 1];
  if (!first || !last) return entry.key.span;
  return first === last ? first.span : { start: first.span.start, end: last.span.end };
}

/** The smallest span a person would point at: a finding never runs over a whole block. */
function firstLine(item: Item): Span {
  return item.kind === "entry" ? item.key.span : item.kind === "phrase" ? item.word.span : item.span;
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

/** A table's rows are kept with the block that holds them. */
export type { Reading, ReadingTable, ScopeFact, Reference };
