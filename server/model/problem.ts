// What a text gets wrong by itself, before any name is resolved. Data only.
import type { Span } from "../../grammar/tree.ts";

/** What the text gets wrong by itself. `code` is the id of the rule that reports it. */
export interface TextProblem {
  readonly code: string;
  readonly message: string;
  readonly span: Span;
  readonly fixes: readonly TextFix[];
  /** The path of the figure concerned, so that a chain of nonsense can be stopped at its cause. */
  readonly path?: string;
}

export interface TextFix {
  readonly title: string;
  /** Safe: what the figure means does not change. */
  readonly safe: boolean;
  readonly edits: readonly { readonly span: Span; readonly text: string }[];
}
