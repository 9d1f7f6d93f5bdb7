// What a schema row can say: which keys and statements exist, what they take, and the words that explain them.
// Knows the form of the vocabulary of engines, not the text it is read from.
import type { KindId } from "../quantity/kinds.ts";

/** Words that say of what a figure is: cold or hot, cam or crank. One word of the set is required (or `unstated`) where a key asks for it. */
export interface QualifierSet {
  readonly id: string;
  /** What the set decides, to complete "… says whether …". */
  readonly words: string;
  /** Each word with its meaning. `unstated` is always allowed beside them where the set is required. */
  readonly options: Readonly<Record<string, string>>;
}

export type ValueType =
  /** `or`: other kinds that the same figure is quoted in (an injector in cc/min or lb/h); the unit written decides. */
  | { readonly is: "quantity"; readonly kind: KindId; readonly or?: readonly KindId[] }
  /** One of the listed words; several words make one option when joined by a space ("belt end"). */
  | { readonly is: "word"; readonly options: Readonly<Record<string, string>> }
  | { readonly is: "yes-no" }
  /** A string, or loose words. */
  | { readonly is: "text" }
  | { readonly is: "date" }
  /** 1-3-4-2, a dashed list, or one number for a single cylinder. */
  | { readonly is: "order" }
  | { readonly is: "thread" }
  /** A property class or grade: 8.8, 10.9, "grade 8". */
  | { readonly is: "class" }
  /** Tightening stages: torque, then torque, then angle. */
  | { readonly is: "stages" }
  /** A list of quantities. */
  | { readonly is: "quantities"; readonly kind: KindId }
  /** The name of a declaration of this sort, or of an open set when absent. */
  | { readonly is: "name"; readonly of?: "engine" | "part" | "card" | "build" }
  /** A list of names of an open set. */
  | { readonly is: "names" }
  | { readonly is: "fingerprint" }
  /** A file of figures beside this one, its path in quotes. It is read with the declaration that names it. */
  | { readonly is: "file" }
  /** A grade of oil, plug heat range, wire grade: words, marks and numbers kept as written. */
  | { readonly is: "mark" }
  /** An amount of money with its currency, three letters of ISO 4217: 240.00 GBP. */
  | { readonly is: "money" };

/** The span a key ever holds in the trade, in the base unit of its kind; used to catch slips, never as a limit. Where a key takes several kinds, of the first. */
export interface UsualSpan {
  readonly low: number;
  readonly high: number;
  /** Where the span comes from: a standard, a table, or "common practice, no source". */
  readonly source: string;
}

/** What a key holds beside another figure, wide; used to catch slips, never as a limit. */
export interface UsualShare {
  /** Path of the other figure in the effective build; `.key` for the one beside it in its own block, `{other}` for the same one of the other
   * side, `{spring-rate}` for its spring's rate; or the id of a computed value. */
  readonly path: string;
  /** "the bore". */
  readonly words: string;
  /** A plain ratio between figures of one kind; else in the base units of both kinds. */
  readonly low: number;
  readonly high: number;
  /** A weight goes with the cube of a size. */
  readonly power?: 3;
  readonly source: string;
}

export type Importance = "essential" | "useful" | "rare";

export interface KeySchema {
  readonly key: string;
  /** One sentence: what the figure is, in a builder's words. */
  readonly words: string;
  readonly type: ValueType;
  /** Sets of which one word is required. */
  readonly qualifiers?: readonly string[];
  /** Sets of which one word may be given. */
  readonly mayQualify?: readonly string[];
  readonly usual?: UsualSpan;
  /** Shares of other effective figures that the key ever holds, where those are known: a ring's gap goes with its bore. */
  readonly usualPer?: readonly UsualShare[];
  /** As it would be typed after the key, unit and qualifier included: shown in hover, inserted by completion. */
  readonly example: string;
  readonly importance?: Importance;
  /** True where a declaration without it cannot do its job: `missing-key`. */
  readonly required?: boolean;
  /** The path of the effective build that this figure lands on, when it is not the block's own path plus the key. `{side}` is replaced by the enclosing intake or exhaust. */
  readonly lands?: string;
  /** True for what is left out of a sheet that is meant for everybody: what was paid, and to whom. */
  readonly private?: boolean;
  /** True where a tune rests on the figure itself, whether or not a formula of the tune's reads it. */
  readonly tune?: true;
  /** Older or other spellings that mean this key: reported with a fix. */
  readonly aliases?: readonly string[];
}

/** A column or the row labels of a table. */
export interface TableSchema {
  readonly words: string;
  /** `columns`: each column is one of the keys; `grid`: labels down the side, places along the top. */
  readonly form: "columns" | "grid";
  readonly columns?: readonly KeySchema[];
  /** For a grid: the kind of every reading, and what the row labels and column heads name. */
  readonly kind?: KindId;
  readonly rows?: string;
  readonly heads?: string;
  readonly example: string;
}

export interface BlockSchema {
  readonly id: string;
  readonly words: string;
  readonly keys: readonly KeySchema[];
  /** Blocks that stand inside without a name: `intake { … }`. */
  readonly blocks?: Readonly<Record<string, BlockSchema>>;
  /** Statement words allowed inside: their schemas are in phrases.ts. */
  readonly statements?: readonly string[];
  readonly table?: TableSchema;
  /** Path of the effective build under which keys land; defaults to the path of the enclosing block plus this block's name. */
  readonly base?: string;
  /** True where the block may also be given for one side: `valve-spring for intake`. */
  readonly sided?: boolean;
  /** Any key is allowed and kept as text (free-form records such as a carburettor's jets). */
  readonly open?: boolean;
}

/** A kind of part: one file in parts/. */
export interface PartKind extends BlockSchema {
  /** True where an engine has two of them, one a side (cam gears on a twin cam); a fit may then say `for intake`. */
  readonly sided?: boolean;
  /** True where an engine takes several different ones at a time (gaskets, pulleys): a second one does not replace the first. */
  readonly several?: boolean;
  /** Keys that only the fit of the part may carry (`fit vernier-18 { set: … }`), beside the part's own keys. */
  readonly fitKeys?: readonly KeySchema[];
  /**
   * Effective paths whose stock figures end when another part of this kind is fitted: what the new part does not restate becomes unknown,
   * so that a new spring is never judged by the old one's solid height. A path ending in `.*` means all below it; `*` in the middle is one step.
   */
  readonly clears?: readonly string[];
  /** Paths within `clears` that belong to the engine rather than to the part and stay (the spring's seat is cut in the head). */
  readonly keeps?: readonly string[];
  /** True where fuel and spark as they were no longer fit once another is fitted. A kind that is renewed like for like (a head, a distributor) asks for none. */
  readonly asksForTune?: true;
  /** True where the part touches a maker-rated hazard; its explanation carries the cautions of this id. */
  readonly cautions?: readonly string[];
}

/** The role of one item of a phrase's head. */
export interface HeadRole {
  readonly role: string;
  readonly words: string;
  /** A fixed joining word (`on`, `for`) that introduces it. */
  readonly after?: string;
  readonly optional?: boolean;
  /** True where several may stand, with or without commas (`for dunlin-18, dunlin-20`). */
  readonly many?: boolean;
  readonly takes: "name" | "word" | "string" | "date" | "condition" | "figure";
}

/** A statement or declaration: its word, what its head holds, and its block. */
export interface PhraseSchema {
  readonly word: string;
  readonly words: string;
  readonly head: readonly HeadRole[];
  readonly block?: BlockSchema;
  readonly example: string;
}
