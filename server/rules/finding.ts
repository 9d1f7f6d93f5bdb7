// What a check finds: a sentence at a place, the other places involved, and fixes. Knows no protocol and no output format.
import type { DeclarationTree, Span } from "../../grammar/tree.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Declaration, Location, WaiverFact } from "../model/declaration.ts";
import type { KindId } from "../quantity/kinds.ts";

/** error: do not turn this engine. warning: wrong unless you can say why. advice: worth knowing. */
export type Severity = "error" | "warning" | "advice";

export interface Related {
  readonly message: string;
  readonly at: Location;
}

export interface Edit {
  readonly tree: DeclarationTree;
  readonly span: Span;
  readonly text: string;
}

export interface Fix {
  readonly title: string;
  /** Safe: what the figures mean does not change, so it may be applied together with others unasked. */
  readonly safe: boolean;
  readonly edits: readonly Edit[];
}

/** The figure that a finding is about: what its message names, and which way is worse. */
export interface Amount {
  /** In the base of the kind. */
  readonly value: number;
  readonly kind: KindId;
  readonly unit?: UnitId;
  readonly decimals?: number;
  readonly worse: "more" | "less";
}

export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly at: Location;
  readonly related: readonly Related[];
  readonly fixes: readonly Fix[];
  /** The effective path or value id concerned, for waivers that name one and for marking the sheet. */
  readonly path?: string;
  /** How far wrong it stands, for waivers that say what was accepted. */
  readonly amount?: Amount;
  /** The build or engine it was found for. */
  readonly subject?: Declaration;
  /** The waiver that silences it. A waived finding is listed, never shown as a problem. */
  readonly waiver?: WaiverFact;
}

/** A critical thing that no rule could check, and the figures that would let it. */
export interface Unchecked {
  readonly rule: string;
  /** Completes "… was not checked": "piston-to-valve clearance". */
  readonly what: string;
  readonly missing: readonly { readonly path: string; readonly words: string }[];
}
