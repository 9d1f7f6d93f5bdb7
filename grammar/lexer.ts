// Cuts the text of one declaration into tokens and comments. Total: every character lands in a token, a comment or a blank.
import { Lexer } from "chevrotain";
import type { IToken } from "chevrotain";
import { forgetTokens, LEXED } from "./tokens.ts";

export interface Lexed {
  /** Line ends and doc lines included. */
  readonly tokens: IToken[];
  readonly comments: readonly IToken[];
}

const lexer = new Lexer([...LEXED], { positionTracking: "onlyOffset", ensureOptimizations: true, skipValidations: true });

/** What the lexer toolkit finds wrong with the token patterns; empty when they are sound. A test runs it. */
export function tokenErrors(): string[] {
  const checked = new Lexer([...LEXED], { positionTracking: "onlyOffset", ensureOptimizations: true, deferDefinitionErrorsHandling: true });
  return checked.lexerDefinitionErrors.map((error) => error.message);
}

export function lex(text: string): Lexed {
  const result = lexer.tokenize(text);
  forgetTokens();
  return { tokens: result.tokens, comments: result.groups["comments"] ?? [] };
}
