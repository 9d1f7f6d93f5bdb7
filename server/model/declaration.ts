// What one declaration states, as flat facts: the tree lowered once, so that names, overlay, rules and editor features query lists
// and never walk trees. Knows the schema; knows no other declaration.
import type { DeclarationTree, Part, Span, Text } from "../../grammar/tree.ts";
import type { BlockSchema, KeySchema, PartKind } from "../schema/types.ts";
import type { TextProblem } from "./problem.ts";
import type { Reading, ReadingTable } from "./reading.ts";
import type { FigureValue } from "./value.ts";

/** A place in the text that stays valid while its declaration is unchanged, wherever that declaration moves. */
export interface Location {
  readonly tree: DeclarationTree;
  readonly span: Span;
}

export type Sort = "engine" | "part" | "card" | "build" | "shop" | "use" | "none";
export type Side = "intake" | "exhaust";

/** A figure as one declaration gives it. */
export interface FigureFact {
  /** Where it lands in the effective build: `valve-gear.intake.lash`. */
  readonly path: string;
  /** The path as written inside the declaration: `intake.lash`. */
  readonly written: string;
  readonly key: KeySchema;
  readonly value: FigureValue;
  readonly keySpan: Span;
  readonly span: Span;
  readonly docs: string;
  /** True where one figure was given for both sides: the same declaration's figure for one side counts before it, whatever their order. */
  readonly shared?: boolean;
}

/** A table of a block that lands in the effective build: a lobe point by point, the places of bolts. */
export interface TableFact {
  /** Path of the block that holds it: `camshaft.intake.lobe`, `fastener.head-bolt.positions`. */
  readonly path: string;
  readonly table: ReadingTable;
  readonly span: Span;
}

/** A name used, to be found elsewhere. */
export interface Reference {
  readonly of: "engine" | "part" | "card" | "build" | "file";
  readonly name: Text;
  /** The statement it stands in: `on`, `for`, `fit`, `follow`, `use`. */
  readonly role: string;
}

export interface ScopeFact {
  /** `any` for any engine. */
  readonly engine: Text;
  /** Areas of the engine the figures are good for; empty means the whole. */
  readonly areas: readonly Text[];
}

export interface FitFact {
  readonly name?: Text;
  readonly side?: Side;
  /** Figures given in the fit's own block: how the part is set. Chosen, and landed like the part's own. */
  readonly figures: readonly FigureFact[];
  /** A part described on the spot. */
  readonly inline?: Declaration;
  readonly status?: Text;
  /** The day it went in, from the head. */
  readonly date?: Text;
  readonly block?: Span;
  readonly span: Span;
}

export interface FollowFact {
  readonly name: Text;
  readonly span: Span;
}

/** A condition: a path alone (is it so?), or a path compared with a figure. */
export interface Condition {
  readonly path: Text;
  readonly op?: "<=" | ">=" | "<" | ">";
  readonly operand?: readonly Part[];
  readonly span: Span;
}

export interface NeedFact {
  /** What is needed: a part kind, or a word of the schema such as `tune`. */
  readonly what: Text;
  readonly where: readonly Condition[];
  readonly after?: Text;
  readonly span: Span;
}

export interface CheckFact {
  readonly title?: string;
  readonly condition: Condition;
  readonly span: Span;
}

export interface WaiverFact {
  readonly rule: Text;
  /** The figure it is meant for, when it stands beside one or names one. */
  readonly path?: Text;
  readonly because?: string;
  readonly until?: Text;
  readonly at?: readonly Part[];
  /** The block it stands in; a waiver covers findings inside it, or in the whole declaration when it stands at its top. */
  readonly within: Span;
  readonly span: Span;
}

export interface MeasuredFact {
  /** What was measured: an id of schema/measurements.ts. */
  readonly what: Text;
  readonly qualifiers: readonly Text[];
  /** Which fastener, where the head says it: `measured stretch for rod-bolt`. */
  readonly of?: Text;
  readonly date?: Text;
  readonly readings: readonly Reading[];
  /** A curve as it was read, column by column: oil pressure by speed. */
  readonly table?: ReadingTable;
  readonly figures: readonly FigureFact[];
  readonly span: Span;
}

/** A statement kept whole for the parts of the house that read it: run, pull, tune, plan, log, photo, note … */
export interface RecordFact {
  readonly word: string;
  readonly head: readonly Part[];
  readonly date?: Text;
  readonly figures: readonly FigureFact[];
  readonly table?: ReadingTable;
  /** Blocks inside it with a table of their own: a tune's advance curve, what it was made for. */
  readonly blocks: readonly RecordBlock[];
  readonly records: readonly RecordFact[];
  readonly span: Span;
}

export interface RecordBlock {
  readonly word: string;
  readonly figures: readonly FigureFact[];
  readonly table?: ReadingTable;
  readonly span: Span;
}

/** An entry of a block that takes any key, kept as it is written. */
export interface LooseEntry {
  /** Id of the block. */
  readonly block: string;
  readonly key: Text;
  readonly value: readonly Part[];
  readonly span: Span;
}

export interface FastenerFact {
  readonly name: Text;
  readonly span: Span;
}

export interface Declaration {
  readonly tree: DeclarationTree;
  readonly sort: Sort;
  readonly kind?: PartKind;
  readonly kindName?: Text;
  readonly name?: Text;
  readonly title?: string;
  readonly docs: string;
  /** The phrase's span; the span to point at is `name` or the word. */
  readonly span: Span;
  readonly wordSpan: Span;
  readonly block?: BlockSchema;
  readonly scopes: readonly ScopeFact[];
  readonly on?: Text;
  readonly path?: Text;
  readonly figures: readonly FigureFact[];
  readonly tables: readonly TableFact[];
  readonly fits: readonly FitFact[];
  readonly follows: readonly FollowFact[];
  readonly needs: readonly NeedFact[];
  readonly checks: readonly CheckFact[];
  readonly waivers: readonly WaiverFact[];
  readonly measured: readonly MeasuredFact[];
  readonly fasteners: readonly FastenerFact[];
  readonly records: readonly RecordFact[];
  readonly loose: readonly LooseEntry[];
  readonly references: readonly Reference[];
  readonly problems: readonly TextProblem[];
}

/** The lists of a declaration, each looked at by itself. */
export const LISTS_OF_FACTS = ["scopes", "figures", "tables", "fits", "follows", "needs", "checks", "waivers", "measured", "fasteners", "records", "loose", "references", "problems"] as const satisfies readonly (keyof Declaration)[];
export type ListOfFacts = (typeof LISTS_OF_FACTS)[number];
