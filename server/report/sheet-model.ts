// The build sheet as a document: what stands on it, in reading order, as plain text and numbers already worded. Every export and the
// editor's page are printed from this one model. Knows no markup.
import type { Severity } from "../rules/finding.ts";
import type { WaiverState } from "../rules/waiver-state.ts";
import type { Place } from "./place.ts";

export interface SheetModel {
  readonly name: string;
  readonly title: string;
  /** Sentences, the first says what stops the engine or that nothing was found to. */
  readonly verdict: readonly string[];
  readonly stopped: boolean;
  /** Said when some rows are kept from the last text that could be read. */
  readonly kept?: string;
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  /** Worst first. */
  readonly findings: readonly SheetFinding[];
  readonly waivers: readonly SheetWaiver[];
  readonly notChecked: readonly { readonly what: string; readonly missing: readonly string[] }[];
  /** The engine in one paragraph. */
  readonly engine: string;
  readonly sections: readonly SheetSection[];
  /** Stands at the head of the cautions. */
  readonly deference: string;
  readonly cautions: readonly { readonly id: string; readonly title: string; readonly words: string }[];
}

export interface SheetFinding {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly place?: Place;
  /** Places that the same is said of stand together. */
  readonly related: readonly { readonly message: string; readonly places: readonly Place[] }[];
  readonly fixes: readonly string[];
  /** The value or figure it is about. */
  readonly path?: string;
}

export interface SheetWaiver {
  readonly rule: string;
  readonly state: WaiverState;
  /** The figure that was accepted, as written. */
  readonly accepts?: string;
  readonly reason: string;
  readonly until?: string;
  readonly place?: Place;
  /** What it silences now; empty for one that is expired or has nothing left to silence. */
  readonly silences: readonly string[];
}

export interface SheetSection {
  readonly id: string;
  readonly title: string;
  readonly values: readonly ValueRow[];
  readonly tables: readonly SheetTable[];
  readonly lists: readonly SheetList[];
  readonly drawings: readonly SheetDrawing[];
  /** Values that could not be worked out, and why not. */
  readonly missing: readonly { readonly id: string; readonly label: string; readonly why: string }[];
}

export interface ValueRow {
  readonly id: string;
  readonly label: string;
  /** What it is a value of where a section tells several such things apart, a fastener by its name, and its label without that name. */
  readonly group?: { readonly name: string; readonly label: string };
  /** Kept from the last text that could be read. */
  readonly kept?: boolean;
  /** The nominal in the system the builder writes in; empty for what was only measured. */
  readonly value: string;
  /** The same in the other system; empty where both say it alike. */
  readonly other: string;
  /** Low to high, in the first unit; empty where there is no spread. */
  readonly spread: string;
  readonly estimate: boolean;
  /** The same as it comes out of what was measured. Absent where nothing it rests on was, or where nothing came out otherwise. */
  readonly measured?: MeasuredRow;
  readonly limit?: { readonly text: string; readonly origin: string; readonly margin: string; readonly kept: boolean };
  /** The worst that any rule found of it. */
  readonly mark?: Severity;
  /** What it reads as written, where a figure is being tried and it reads otherwise now. */
  readonly before?: { readonly value?: string; readonly measured?: string; readonly margin?: string };
  readonly trace: Trace;
}

export interface MeasuredRow {
  /** "as measured", "as measured, cylinder 3", "as measured, 4 places". */
  readonly label: string;
  /** Of several places the least to the greatest. */
  readonly value: string;
  readonly other: string;
  readonly places: readonly { readonly place: string; readonly value: string; readonly at?: Place }[];
}

/** How a value was worked out. */
export interface Trace {
  readonly words: string;
  readonly expression: string;
  /** The expression with the numbers put in. */
  readonly worked: string;
  readonly inputs: readonly { readonly name: string; readonly words: string; readonly value: string; readonly origin: string; readonly valueId?: string; readonly place?: Place }[];
  readonly assumptions: readonly string[];
  /** Why it is an estimate by nature, when it is one. */
  readonly estimate?: string;
  readonly source: string;
}

export interface SheetTable {
  readonly caption: string;
  readonly heads: readonly string[];
  /** The first cell of a row names it. */
  readonly rows: readonly { readonly cells: readonly string[]; readonly place?: Place }[];
}

export interface SheetList {
  readonly caption: string;
  /** Boxes to be ticked on paper; what is done is ticked. */
  readonly ticks: boolean;
  readonly items: readonly { readonly text: string; readonly done?: string; readonly note?: string; readonly place?: Place }[];
}

/** A drawing as SVG with its title and its text alternative inside. */
export interface SheetDrawing {
  readonly id: string;
  readonly title: string;
  readonly alternative: string;
  readonly svg: string;
}
