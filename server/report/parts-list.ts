// The parts of a build as a list: what is in, here, on its way and still to be had, what was paid and where it came from; the sums; what the
// build asks for and nothing answers. Knows no format.
import type { FigureFact } from "../model/declaration.ts";
import type { EffectiveBuild, FittedPart } from "../model/effective.ts";
import { needsOf } from "../rules/needs.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import type { Atlas, Place } from "./place.ts";
import { nameOfSubject } from "./checked.ts";

export type PartStatus = "fitted" | "on-hand" | "ordered" | "wanted";

export const PART_STATUSES: Readonly<Record<PartStatus, string>> = { fitted: "fitted", "on-hand": "on hand", ordered: "ordered", wanted: "to be had" };

/** An exact sum of money: the amount as it is written, "240.00". */
export interface Money {
  readonly amount: string;
  /** Three letters of ISO 4217. */
  readonly currency: string;
}

export interface PartEntry {
  readonly part: string;
  readonly kind: string;
  readonly side: string | null;
  readonly status: PartStatus;
  readonly quantity: number | null;
  readonly condition: string | null;
  readonly maker: string | null;
  readonly partNumber: string | null;
  readonly serial: string | null;
  /** The day it went in, and the day it was bought. */
  readonly fitted: string | null;
  readonly bought: string | null;
  /** Null where nobody says, and on a list that is made for everybody. */
  readonly cost: Money | null;
  readonly from: string | null;
  /** Where its figures were copied from. */
  readonly source: string | null;
  readonly place?: Place;
}

/** Something that a part or card asks for and nothing answers. */
export interface MissingPart {
  readonly what: string;
  /** "coil-bind-margin >= 1.5 mm". */
  readonly where: readonly string[];
  readonly askedBy: string;
  readonly isPart: boolean;
  readonly place?: Place;
}

export interface PartsList {
  readonly build: string;
  readonly parts: readonly PartEntry[];
  readonly missing: readonly MissingPart[];
  /** Sums by currency: paid for what is in or here, promised for what is on its way, and what the rest is said to cost. Empty on a list made for everybody. */
  readonly sums: readonly { readonly currency: string; readonly paid: string; readonly ordered: string; readonly wanted: string; readonly all: string }[];
  /** Parts without a cost: the sums leave them out. */
  readonly withoutCost: number;
  /** True where costs and where parts came from are left out. */
  readonly open: boolean;
}

/** The parts of a build. `open`: for everybody, without what was paid and to whom. */
export function partsList({ build, sheet, atlas, open = false }: { readonly build: EffectiveBuild; readonly sheet: Sheet; readonly atlas: Atlas; readonly open?: boolean }): PartsList {
  const parts = build.parts.map((part) => entryOf(part, build, atlas, open));
  const missing = needsOf(build, sheet).filter((n) => !n.met).map(({ asker, need, kind, at }): MissingPart => {
    const place = atlas.placeOf({ tree: at.tree, span: need.what.span });
    return { what: need.what.text, where: need.where.map((c) => at.tree.text.slice(c.span.start, c.span.end).replace(/\s+/g, " ")), askedBy: asker.words, isPart: kind !== undefined, ...(place && { place }) };
  });
  return { build: nameOfSubject(build.subject), parts, missing, sums: open ? [] : sumsOf(parts), withoutCost: open ? 0 : parts.filter((p) => !p.cost).length, open };
}

function entryOf({ words, kindId, side, declaration, fit }: FittedPart, build: EffectiveBuild, atlas: Atlas, open: boolean): PartEntry {
  const own = fit.inline ? declaration.figures : fit.figures;
  const said = (key: string) => textOf(own.findLast((f) => f.key.key === key));
  const card = (key: string) => textOf(declaration.figures.findLast((f) => f.key.key === key));
  const status = said("status");
  const place = atlas.placeOf({ tree: build.subject.tree, span: fit.name?.span ?? { start: fit.span.start, end: fit.span.start + 3 } });
  const quantity = own.findLast((f) => f.key.key === "quantity")?.value;
  return {
    part: words, kind: kindId, side: side ?? null, status: isStatus(status) ? status : "fitted", quantity: quantity?.is === "quantity" ? quantity.quantity.interval.nominal : null,
    condition: said("condition"), maker: said("maker") ?? card("maker"), partNumber: said("part-number") ?? card("part-number"), serial: said("serial"), fitted: fit.date?.text ?? said("fitted"), bought: said("bought"),
    cost: open ? null : moneyOf(said("cost")), from: open ? null : said("bought-from"), source: card("source"), ...(place && { place }),
  };
}

function textOf(fact: FigureFact | undefined): string | null {
  const value = fact?.value;
  if (!value) return null;
  return value.is === "text" || value.is === "date" ? value.text : value.is === "word" ? value.word : null;
}

function isStatus(text: string | null): text is PartStatus {
  return text !== null && text in PART_STATUSES;
}

function moneyOf(text: string | null): Money | null {
  const match = /^((?:\d*\.)?\d+) ([A-Z]{3})$/.exec(text ?? "");
  return match ? { amount: match[1] as string, currency: match[2] as string } : null;
}

function sumsOf(parts: readonly PartEntry[]): PartsList["sums"] {
  const currencies = [...new Set(parts.flatMap((p) => p.cost?.currency ?? []))].sort();
  return currencies.map((currency) => {
    const of = (...statuses: readonly PartStatus[]) => added(parts.flatMap((p) => (p.cost?.currency === currency && statuses.includes(p.status) ? [p.cost.amount] : [])));
    return { currency, paid: of("fitted", "on-hand"), ordered: of("ordered"), wanted: of("wanted"), all: of("fitted", "on-hand", "ordered", "wanted") };
  });
}

/** Amounts added up exactly, with as many decimals as the longest has and no fewer than two. */
export function added(amounts: readonly string[]): string {
  const decimals = Math.max(2, ...amounts.map((a) => a.split(".")[1]?.length ?? 0));
  const scaled = (a: string): bigint => {
    const [whole = "", part = ""] = a.split(".");
    return BigInt(`${whole === "" ? "0" : whole}${part.padEnd(decimals, "0")}`);
  };
  const digits = amounts.reduce((sum, a) => sum + scaled(a), 0n).toString().padStart(decimals + 1, "0");
  return `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}
