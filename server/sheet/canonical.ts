// What a figure says, as one short text that is the same for every spelling of it: units, digits' zeros and the order of words make no
// difference. For telling whether something changed; knows no formula.
import type { DeclarationTree, Part, Span } from "../../grammar/tree.ts";
import type { FigureFact, RecordBlock, RecordFact } from "../model/declaration.ts";
import type { Provided, Slot } from "../model/effective.ts";
import type { ReadingTable } from "../model/reading.ts";
import type { FigureValue, QuantityValue } from "../model/value.ts";
import type { Interval } from "../quantity/interval.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { readValue } from "../quantity/value.ts";
import { meaningOf } from "./meaning.ts";

/** Sets of words that `meaningOf` turns into the number itself. */
export const HEEDED: ReadonlySet<string> = new Set(["degrees-of", "gear-direction", "deck", "clearance-across", "event", "oversize"]);

/** One link of a slot's chain: `4 deg cam` and `8 deg crank` are one figure. */
export function canonicalLink(slot: Slot, provided: Provided): string {
  const value = provided.fact.value;
  const meaning = value.is === "quantity" ? meaningOf(slot, provided) : undefined;
  if (value.is !== "quantity" || !meaning) return canonicalValue(value);
  const words = Object.entries(value.qualifiers).filter(([set, word]) => !HEEDED.has(set) || word === "unstated");
  return [value.quantity.kind, ends(meaning.interval), ...canonicalWords(Object.fromEntries(words)), ...canonicalClauses(value)].join(" ");
}

/** A figure by itself. */
export function canonicalValue(value: FigureValue): string {
  switch (value.is) {
    case "quantity": return [canonicalQuantity(value.quantity), ...canonicalWords(value.qualifiers), ...canonicalClauses(value)].join(" ");
    case "stages": return value.stages.map(canonicalValue).join(" then ");
    case "word": return value.word;
    case "yes-no": return value.yes ? "yes" : "no";
    case "text": case "class": return collapsed(value.text);
    case "date": return value.text;
    case "order": return value.order.join("-");
    case "thread": return `thread ${digits(value.thread.diameter)} ${digits(value.thread.pitch)}`;
    case "name": return value.name.text;
    case "names": return value.names.map((name) => name.text).join(", ");
    case "file": return JSON.stringify(value.path.text);
    case "hole": return "…";
  }
}

export function canonicalQuantity({ kind, interval }: Quantity): string {
  return `${kind} ${ends(interval)}`;
}

/** The parts after a comparison, of which only the place that they are compared with tells the kind. */
export function canonicalOperand(tree: DeclarationTree, operand: readonly Part[], kind: KindId | undefined): string {
  const quantity = kind && readValue(operand, kind).quantity;
  const [first, last] = [operand[0], operand[operand.length - 1]];
  return quantity ? canonicalQuantity(quantity) : first && last ? sliceOf(tree, { start: first.span.start, end: last.span.end }) : "";
}

export function canonicalTable({ heads, rows }: ReadingTable): string {
  const names = heads.map((h) => [collapsed(h.text), ...h.words.map((w) => w.text)].join(" "));
  return [names, ...rows.map((row) => row.cells.map((cell) => (cell.quantity ? canonicalQuantity(cell.quantity) : cell.text === "" ? "-" : collapsed(cell.text))))].map((cells) => cells.join(" | ")).join("\n");
}

/** A record with everything in it, its own place in the text left out. */
export function canonicalRecord(tree: DeclarationTree, record: RecordFact): string {
  const head = record.head.map((part) => sliceOf(tree, part.span)).join(" ");
  const figures = canonicalFigures(record.figures);
  return [record.word, head, record.date?.text ?? "", ...figures, record.table ? canonicalTable(record.table) : "", ...record.blocks.map(canonicalBlock), ...record.records.map((r) => `{ ${canonicalRecord(tree, r)} }`)].join("\n");
}

function canonicalBlock({ word, figures, table }: RecordBlock): string {
  return [`{ ${word}`, ...canonicalFigures(figures), ...(table ? [canonicalTable(table)] : []), "}"].join("\n");
}

/** Figures of one declaration by path, whatever their order. */
export function canonicalFigures(figures: readonly FigureFact[]): readonly string[] {
  return figures.map((f) => `${f.written}: ${canonicalValue(f.value)}`).sort();
}

/** A stretch of text with its line ends and runs of space made one. */
export function sliceOf(tree: DeclarationTree, span: Span): string {
  return collapsed(tree.text.slice(span.start, span.end));
}

function collapsed(text: string): string {
  return text.replace(/\s+/g, " ").trim();
}

function canonicalWords(qualifiers: Readonly<Record<string, string>>): string[] {
  return Object.values(qualifiers).sort();
}

function canonicalClauses({ clauses }: QuantityValue): string[] {
  return clauses.map((c) => `${c.word} ${canonicalQuantity(c.quantity)}`).sort();
}

function ends({ low, nominal, high }: Interval): string {
  return [low, nominal, high].map(digits).join(" ");
}

/** Eleven figures: conversions of a spelling into another differ beyond them. */
export function digits(x: number): string {
  return String(Number(x.toPrecision(11)));
}
