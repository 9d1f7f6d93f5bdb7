// The chain behind a figure: who said it first, what stands in its place now, and what was measured of it. Each link is a place in a file.
// Offsets out; knows no protocol.
import type { Span } from "../../grammar/tree.ts";
import type { Location } from "../model/declaration.ts";
import { type Provided, type Slot, effective, wordsFor } from "../model/effective.ts";
import { plainValue } from "../model/plain-value.ts";
import { formatBand } from "../quantity/display.ts";
import { kindOf } from "../quantity/kinds.ts";
import { systemOf } from "../model/system.ts";
import { type MeasuredReading, measuredReadings, placeWords } from "../sheet/measured.ts";
import type { Analysis, SubjectResult } from "../workspace/analyse.ts";
import { type Target, targetOf } from "./definition.ts";
import { slotOf, subjectOf } from "./hover.ts";
import { hereAt, spotAt } from "./spot.ts";

export interface ChainLink extends Target {
  /** As written: "0.20 mm cold". */
  readonly value: string;
  /** "chosen by Wren hill-climb car", "asked for by Ridgeway 272", "measured on 2027-03-14, intake a, cylinder 1". */
  readonly words: string;
  readonly fate: "counts" | "replaced" | "taken off" | "measured";
  /** What the figure is: "lash". */
  readonly name: string;
}

/** The chain of the figure at a place, oldest first, readings last; empty where there is no figure. */
export function chainAt(analysis: Analysis, uri: string, offset: number): ChainLink[] {
  const here = hereAt(analysis, uri, offset);
  const spot = here && spotAt(here);
  const subject = here && subjectOf(here);
  if (!subject || !spot) return [];
  if (spot.on === "key" || spot.on === "value") {
    const slot = slotOf(subject, spot.fact);
    return slot ? linksOf(analysis, subject, slot) : [];
  }
  if (spot.on !== "reading") return [];
  const path = measuredReadings(subject.build).find((r) => r.location.tree === here?.declaration.tree && r.location.span.start === spot.reading.span.start)?.path;
  const slot = path === undefined ? undefined : subject.build.slots.get(path);
  return slot ? linksOf(analysis, subject, slot) : [];
}

function linksOf(analysis: Analysis, subject: SubjectResult, slot: Slot): ChainLink[] {
  const current = effective(slot);
  const name = slot.path.split(".").slice(-2).join(" ");
  const first = Math.max(0, slot.chain.length - MOST_LINKS);
  const given = slot.chain.slice(first).flatMap((p, i) => linkOf(analysis, subject, p, p === current ? "counts" : first + i < slot.from ? "taken off" : "replaced", name));
  return [...given, ...measuredLinks(analysis, subject, slot, name)];
}

/** Of a figure that is written again and again, the last of them. */
const MOST_LINKS = 100;

/** One link for each day on which it was measured: a table of readings is one thing that was done. */
function measuredLinks(analysis: Analysis, subject: SubjectResult, slot: Slot, name: string): ChainLink[] {
  const days = new Map<string, MeasuredReading[]>();
  for (const r of measuredReadings(subject.build)) if (r.path === slot.path) days.set(r.date, [...(days.get(r.date) ?? []), r]);
  return [...days].flatMap(([day, readings]) => {
    const first = readings[0];
    if (!first) return [];
    const sizes = readings.map((r) => r.interval.nominal);
    const band = (nominal: number) => formatBand({ low: nominal, nominal, high: nominal }, first.kind, kindOf(first.kind)[systemOf(subject.build) === "inch" ? "inch" : "metric"]);
    const [least, most] = [band(Math.min(...sizes)), band(Math.max(...sizes))];
    const place = readings.length === 1 ? placeWords(first.place) : `${readings.length} places`;
    return targetOf(analysis, first.location).map((t): ChainLink => ({ ...t, value: least === most ? least : `${least} to ${most}`, words: `measured${day ? ` on ${day}` : ""}${place ? `, ${place}` : ""}`, fate: "measured", name }));
  });
}

function linkOf(analysis: Analysis, subject: SubjectResult, p: Provided, fate: ChainLink["fate"], name: string): ChainLink[] {
  const by = p.origin.sort === "build" ? wordsFor(subject.build.subject) : p.origin.words;
  return targetOf(analysis, { tree: p.location.tree, span: p.fact.span }).map((t) => ({ ...t, value: plainValue(p.fact.value), words: `${p.role === "asked" ? "asked for" : "chosen"} by ${by}`, fate, name }));
}

/** A figure as it stands in one declaration, and where its key is. */
export interface FigureAt extends ChainLink {
  readonly key: Span;
}

/** The figure written at a place, by itself. */
export function figureAt(analysis: Analysis, uri: string, offset: number): FigureAt | undefined {
  const here = hereAt(analysis, uri, offset);
  const spot = here && spotAt(here);
  if (!here || (spot?.on !== "key" && spot?.on !== "value")) return undefined;
  const { fact } = spot;
  const at = (span: Span) => ({ start: span.start + here.start, end: span.end + here.start });
  return { uri, span: at(fact.span), key: at(fact.keySpan), value: plainValue(fact.value), words: wordsFor(here.declaration), fate: "counts", name: fact.written.replaceAll(".", " ") };
}

/** What a figure took the place of, or what took its place, in any build that is known; for the one that counts, what was measured of it. */
export function besideInChain(analysis: Analysis, uri: string, offset: number, toward: "older" | "newer"): ChainLink[] {
  const here = hereAt(analysis, uri, offset);
  const spot = here && spotAt(here);
  if (!here || (spot?.on !== "key" && spot?.on !== "value")) return [];
  const found = new Map<string, ChainLink>();
  const add = (links: readonly ChainLink[]) => links.forEach((link) => void found.set(`${link.uri} ${link.span.start}`, link));
  for (const file of analysis.project.files.keys())
    for (const subject of analysis.fileResult(file)?.subjects ?? []) {
      if (!standsIn(subject, here.declaration.tree)) continue;
      const slot = slotOf(subject, spot.fact);
      if (!slot) continue;
      const links = linksOf(analysis, subject, slot);
      const i = slot.chain.findIndex((p) => p.fact === spot.fact);
      const next = slot.chain[toward === "older" ? i - 1 : i + 1];
      if (next) add(linkOf(analysis, subject, next, next === effective(slot) ? "counts" : "replaced", links[0]?.name ?? ""));
      else if (toward === "newer") add(links.filter((l) => l.fate === "measured"));
    }
  return [...found.values()];
}

function standsIn({ build }: SubjectResult, tree: Location["tree"]): boolean {
  return [build.subject, build.engine, ...build.parts.map((p) => p.declaration), ...build.cards.map((c) => c.declaration)].some((d) => d?.tree === tree);
}
