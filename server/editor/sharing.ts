// A figure that several builds on one engine give alike, turned into a card that they follow. The figures stay the same; that they are then
// asked for by a card, and no longer chosen by each build, is said where it is offered.
import type { Block, Entry, Item, Phrase, Span } from "../../grammar/tree.ts";
import type { Declaration, FigureFact } from "../model/declaration.ts";
import { plainValue } from "../model/plain-value.ts";
import { useEdit } from "../rules/names.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { type Change, analysisAfter, leavesFigures } from "./change.ts";
import type { FileEdit } from "./fixes.ts";
import { insertionAfter, lineEndOf, removalOf } from "./items.ts";
import { relativePath } from "./links.ts";
import { fileFor, freeName, laidOut, phraseStart } from "./moving-out.ts";
import { hereAt } from "./spot.ts";

interface PlacedBuild {
  readonly uri: string;
  readonly declaration: Declaration;
  readonly facts: readonly FigureFact[];
}

export interface Shared {
  /** The item at the caret, and the phrases it stands in, outermost first, the build left out. */
  readonly item: Entry | Phrase;
  readonly around: readonly Phrase[];
  /** The build at the caret first. */
  readonly builds: readonly PlacedBuild[];
  readonly name: string;
  /** How a person would call it: `cam-gear torque`. */
  readonly words: string;
}

/** The figure, or the block at whose head the caret is, where another build on the same engine gives the same. */
export function sharedAt(analysis: Analysis, uri: string, span: Span): Shared | undefined {
  const here = hereAt(analysis, uri, span.start);
  const top = here?.declaration.tree.phrase;
  if (!here || here.declaration.sort !== "build" || !here.declaration.on || !top?.block) return undefined;
  const around: Phrase[] = [];
  let item: Entry | Phrase | undefined;
  for (let block: Block | undefined = top.block; block; ) {
    const found: Item | undefined = block.items.find((i) => i.span.start <= here.offset && i.span.end >= here.offset);
    block = undefined;
    if (found?.kind === "entry") item = found;
    else if (found?.kind === "phrase" && found.block && here.offset > found.block.span.start && !["fit", "measured"].includes(found.word.text)) {
      around.push(found);
      block = found.block;
    } else if (found?.kind === "phrase" && found.block && found.word.text === "fastener") item = found;
  }
  if (!item) return undefined;
  const within = item.span;
  const facts = here.declaration.figures.filter((f) => f.keySpan.start >= within.start && f.keySpan.end <= within.end);
  const first = facts[0];
  if (!first) return undefined;
  const builds: PlacedBuild[] = [{ uri, declaration: here.declaration, facts }];
  for (const file of analysis.project.files.values())
    for (const declaration of file.declarations) {
      if (declaration === here.declaration || declaration.sort !== "build" || declaration.on?.text !== here.declaration.on.text) continue;
      const same = facts.flatMap((f) => declaration.figures.find((g) => g.path === f.path && plainValue(g.value) === plainValue(f.value)) ?? []);
      if (same.length === facts.length) builds.push({ uri: file.uri, declaration, facts: same });
    }
  if (builds.length < 2) return undefined;
  const words = item.kind === "entry" ? first.written.split(".").slice(-3).filter((w) => w !== "fastener").join(" ") : `fastener ${first.written.split(".")[1] ?? ""}`;
  const taken = (name: string) => builds.some((b) => analysis.scope(b.uri).cards.has(name)) || [...analysis.project.files.values()].some((f) => f.declarations.some((d) => d.sort === "card" && d.name?.text === name));
  return { item, around, builds, words, name: freeName(`${item.kind === "entry" ? words : first.written.split(".")[1] ?? "bolt"} card`, taken) };
}

/** Undefined where the card would alter a figure of a build: what a later card says, for one, would count before it. */
export function asCard(analysis: Analysis, uri: string, shared: Shared): Change | undefined {
  const { builds, name, item, around } = shared;
  const own = builds[0];
  const engine = own?.declaration.on?.text;
  const file = analysis.project.files.get(uri);
  const placed = own && analysis.places.placeOf(own.declaration.tree);
  if (!own || engine === undefined || !file || file.source.conflicts || !placed) return undefined;
  const eol = lineEndOf(file.source.text);
  const text = own.declaration.tree.text;
  const inner = text.slice(Math.min(item.span.start, ...item.docs.map((d) => d.span.start)), item.span.end);
  const heads = around.map((p) => text.slice(p.span.start, p.block?.span.start ?? p.span.end).trimEnd());
  const card = laidOut([`card ${name} for ${engine} {`, "source: …", ...heads.map((h) => `${h} {`), inner, ...heads.map(() => "}"), "}"].join("\n"), eol);
  const uris = [...new Set(builds.map((b) => b.uri))];
  const edits: FileEdit[] = [];
  const creates: { uri: string; text: string }[] = [];
  if (uris.length === 1) {
    const first = builds.map((b) => (analysis.places.placeOf(b.declaration.tree)?.start ?? 0) + phraseStart(b.declaration.tree.phrase)).sort((a, b) => a - b)[0] ?? 0;
    edits.push({ uri, span: { start: first, end: first }, text: `${card}${eol}` });
  } else {
    const target = fileFor(analysis, uri, name);
    const home = analysis.scope(uri).engines.get(engine)?.[0];
    const toEngine = target && home && relativePath(target, home.uri);
    if (!target || !home || toEngine === undefined || uris.includes(home.uri)) return undefined;
    creates.push({ uri: target, text: `use "${toEngine}"${eol}${eol}${card}` });
    for (const each of uris) {
      const user = analysis.project.files.get(each);
      const path = relativePath(each, target);
      const use = user && path !== undefined ? useEdit(user, path) : undefined;
      const place = use && analysis.places.placeOf(use.tree);
      if (!use || !place) return undefined;
      edits.push({ uri: each, span: { start: use.span.start + place.start, end: use.span.end + place.start }, text: use.text.replaceAll("\n", eol) });
    }
  }
  for (const build of builds) {
    const block = build.declaration.tree.phrase?.block;
    const start = analysis.places.placeOf(build.declaration.tree)?.start;
    if (!block || start === undefined) return undefined;
    const gone = removed(block, new Set(build.facts.map((f) => f.keySpan.start)));
    for (const each of gone) edits.push({ uri: build.uri, ...shifted(removalOf(build.declaration.tree.text, each), start) });
    const last = build.declaration.follows.at(-1)?.span ?? build.declaration.fits.at(-1)?.span;
    const after = last && block.items.find((i) => i.span.start === last.start);
    const follow = insertionAfter(build.declaration.tree, block, after, `follow ${name}`);
    edits.push({ uri: build.uri, span: { start: follow.span.start + start, end: follow.span.end + start }, text: follow.text });
  }
  const change = { edits, creates };
  const after = analysisAfter(analysis, change);
  const known = (analysis_: Analysis) => uris.reduce((n, each) => n + (analysis_.fileResult(each)?.file.declarations.reduce((m, d) => m + d.problems.length, 0) ?? 0), 0);
  return leavesFigures(analysis, after, uris) && known(after) <= known(analysis) + (uris.length === 1 ? 1 : 0) ? change : undefined;
}

function shifted(span: Span, by: number): { readonly span: Span; readonly text: string } {
  return { span: { start: span.start + by, end: span.end + by }, text: "" };
}

/** The entries whose keys stand at these places; a block that would be left empty goes whole. */
function removed(block: Block, keys: ReadonlySet<number>): (Entry | Phrase)[] {
  return block.items.flatMap((item): (Entry | Phrase)[] => {
    if (item.kind === "entry") return keys.has(item.key.span.start) ? [item] : [];
    if (item.kind !== "phrase" || !item.block) return [];
    const inside = removed(item.block, keys);
    return inside.length > 0 && inside.length === item.block.items.length ? [item] : inside;
  });
}
