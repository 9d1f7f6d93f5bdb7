// The shape of a parsed declaration. Knows structure and offsets only: what a word or a figure means is the schema's business.
// All offsets are UTF-16 code units from the start of the declaration's own text (see source-file.ts), so that a
// declaration parsed once stays valid wherever it moves in its file.

export interface Span {
  readonly start: number;
  readonly end: number;
}

export interface Text {
  readonly text: string;
  readonly span: Span;
}

/** How the digits of a figure were written. `dashed` is 1-3-4-2, `comma` is 0,20 (a finding with a fix). */
export type FigureForm = "number" | "fraction" | "ratio" | "dashed" | "comma";

export interface Figure {
  readonly kind: "figure";
  readonly form: FigureForm;
  /** The digits as written, without the unit. */
  readonly digits: Text;
  /** The value of the digits; for a ratio a:b it is a/b, for dashed NaN. */
  readonly value: number;
  /** Half a unit in the last place as written (0.005 for `0.20`); 0 for fractions and whole counts of a ratio. */
  readonly halfDigit: number;
  readonly unit?: UnitRef;
  readonly span: Span;
}

/** A unit as spelt. Whether it is a known unit is decided by `unitOfSpelling`; an unknown word after a figure is a WordPart instead. */
export interface UnitRef extends Text {}

export type Comparison = "<=" | ">=" | "<" | ">";

/** One item of a value or of a phrase's head. */
export type Part =
  | Figure
  | { readonly kind: "range"; readonly low?: Part; readonly high?: Part; readonly span: Span }
  /** `centre ± by`, `± by` (centre absent), or `centre +plus -minus` / `centre +plus/-minus`. Units apply to all of it. */
  | { readonly kind: "tolerance"; readonly centre?: Part; readonly plus: Part; readonly minus: Part; readonly span: Span }
  | { readonly kind: "compare"; readonly op: Comparison; readonly operand: Part; readonly span: Span }
  | { readonly kind: "binary"; readonly op: "+" | "-" | "*" | "/"; readonly left: Part; readonly right: Part; readonly span: Span }
  | { readonly kind: "signed"; readonly sign: "+" | "-"; readonly operand: Part; readonly span: Span }
  | { readonly kind: "group"; readonly inner: readonly Part[]; readonly unit?: UnitRef; readonly span: Span }
  | { readonly kind: "word"; readonly text: string; readonly span: Span }
  | { readonly kind: "string"; readonly text: string; readonly closed: boolean; readonly span: Span }
  | { readonly kind: "date"; readonly text: string; readonly span: Span }
  | { readonly kind: "thread"; readonly text: string; readonly span: Span }
  | { readonly kind: "print"; readonly text: string; readonly span: Span }
  | { readonly kind: "mark"; readonly text: string; readonly span: Span }
  | { readonly kind: "hole"; readonly span: Span };

/** One value of an entry; an entry with a list or with stages has several. */
export interface Value {
  readonly parts: readonly Part[];
  /** True when the value was introduced by `then` (a tightening stage). */
  readonly then: boolean;
  readonly span: Span;
}

export interface Entry {
  readonly kind: "entry";
  readonly docs: readonly Text[];
  readonly key: Text;
  readonly values: readonly Value[];
  readonly span: Span;
}

export interface Cell {
  readonly parts: readonly Part[];
  /** A unit alone in "( )" at the end of a header cell. */
  readonly unit?: UnitRef;
  /** Words in the "( )": `lash (mm cold)`. */
  readonly words: readonly Text[];
  /** True for a lone `-`: no reading. */
  readonly none: boolean;
  readonly span: Span;
}

export interface Row {
  readonly kind: "row";
  readonly cells: readonly Cell[];
  readonly span: Span;
}

export interface Phrase {
  readonly kind: "phrase";
  readonly docs: readonly Text[];
  readonly word: Text;
  /** Everything between the word and the block; commas separate and leave no trace here. */
  readonly head: readonly Part[];
  readonly block?: Block;
  readonly span: Span;
}

export interface Block {
  readonly items: readonly Item[];
  /** False when the closing brace is missing and layout closed the block. */
  readonly closed: boolean;
  /** From `{` to `}` inclusive. */
  readonly span: Span;
}

/** `hole` is a lone … : not filled in. `junk` is text that fits nowhere; it costs its own line and carries a problem. */
export type Item =
  | Entry
  | Row
  | Phrase
  | { readonly kind: "hole"; readonly span: Span }
  | { readonly kind: "junk"; readonly span: Span };

/** What the text itself gets wrong, worded for a builder. `code` is the id of the rule that reports it. */
export interface SyntaxProblem {
  readonly code: "syntax" | "decimal-comma" | "unclosed-block" | "unclosed-string" | "dashed-range";
  readonly message: string;
  readonly span: Span;
  /** A replacement that mends it without changing meaning, when there is one. */
  readonly fix?: { readonly title: string; readonly span: Span; readonly text: string };
}

export interface Comment {
  readonly text: string;
  readonly span: Span;
}

/** One top-level chunk of a file: a declaration, a `use`, or stray text. The unit of re-parsing. */
export interface DeclarationTree {
  readonly text: string;
  /** The phrase, absent when the chunk holds only comments, blank lines or stray text. */
  readonly phrase?: Phrase;
  /** Stray items outside any declaration (junk at top level, a key outside a block …). */
  readonly stray: readonly Item[];
  readonly comments: readonly Comment[];
  readonly problems: readonly SyntaxProblem[];
}
