// Decides which line ends mean something and where blocks without a closing brace end. Works on tokens; knows no grammar beyond them.
import type { IToken, TokenType } from "chevrotain";
import {
  Comma, Compare, Doc, endOf, Key, LayoutClose, LeftBrace, LeftParen, Minus, Newline, Pipe, Plus, PlusMinus, RightBrace, RightParen, Semicolon, Slash, Star,
  StrayBrace, To, Word,
} from "./tokens.ts";
import { STATEMENT_WORDS, TOP_WORDS } from "./vocabulary.ts";
import { tooDeep } from "./messages.ts";
import type { SyntaxProblem } from "./tree.ts";

/** Blocks and groups deeper than this are not read as such. */
export const DEPTH_LIMIT = 100;

export interface LaidOut {
  readonly tokens: IToken[];
  /** Doc lines that stand after something on their line: comments after all. */
  readonly comments: readonly IToken[];
  readonly problems: readonly SyntaxProblem[];
}

const OPEN_ENDED: ReadonlySet<TokenType> = new Set([Comma, To, PlusMinus, Compare, Plus, Minus, Star, Slash, LeftParen]);
const VERBS: ReadonlySet<string> = new Set([...STATEMENT_WORDS, ...TOP_WORDS]);

/** Drops line ends that end nothing, settles stray and missing braces, and bounds nesting. */
export function layOut(text: string, lexed: readonly IToken[]): LaidOut {
  const comments: IToken[] = [];
  const problems: SyntaxProblem[] = [];
  const tokens: IToken[] = [];
  let row = false;
  let starts = true; // at the start of an item
  let parens = 0;
  let deep = false;
  let balance = 0;
  let uneven = false;
  let closed = false;
  for (let i = 0; i < lexed.length; i++) {
    const token = lexed[i] as IToken;
    const type = token.tokenType;
    if (type === Newline) {
      const next = row ? -1 : joinedAt(lexed, i);
      if (next >= 0) {
        i = next - 1;
        continue;
      }
      row = false;
      starts = true;
      parens = 0;
      tokens.push(token);
      continue;
    }
    if (type === Doc && !starts) {
      comments.push(token);
      continue;
    }
    if (type === Semicolon) {
      row = false;
      starts = true;
      parens = 0;
    } else if (type === LeftBrace) {
      // A second block beside the declaration's own is more likely a brace too many and one too few.
      if (balance++ === 0 && closed) uneven = true;
      row = false;
      starts = true;
      parens = 0;
    } else if (type === RightBrace) {
      if (--balance < 0) uneven = true;
      closed = true;
      row = false;
      starts = true;
      parens = 0;
    } else if (type === LeftParen) {
      starts = false;
      if (++parens > DEPTH_LIMIT) {
        if (!deep) problems.push(tooDeep(DEPTH_LIMIT, { start: token.startOffset, end: endOf(token) }));
        deep = true;
        continue;
      }
    } else if (type === RightParen) {
      starts = false;
      if (parens > DEPTH_LIMIT) {
        parens--;
        continue;
      }
      if (parens > 0) parens--;
    } else if (type !== Doc) {
      if (starts) row = type === Pipe;
      starts = false;
    }
    tokens.push(token);
  }
  const even = uneven || balance !== 0 ? undefined : settleBraces(text, tokens, undefined, problems);
  // Braces that balance in number and yet leave one that belongs to nothing do not balance.
  const settled = even === undefined || even.some((token) => token.tokenType === StrayBrace) ? settleBraces(text, tokens, trustedPairs(text, tokens), problems) : even;
  return { tokens: settled, comments, problems };
}

/**
 * Where the line goes on that ends at `at` (which ends no table row): the index of the token that follows its line end and
 * any comment lines, or -1 when the line end is one.
 */
export function joinedAt(lexed: readonly IToken[], at: number): number {
  const before = lexed[at - 1];
  if (before === undefined || !OPEN_ENDED.has(before.tokenType)) return -1;
  let next = at;
  while (lexed[next]?.tokenType === Newline) {
    if (isBlankLine(lexed[next] as IToken)) return -1;
    next++;
  }
  const token = lexed[next];
  if (token === undefined) return -1;
  const type = token.tokenType;
  if (type === Key || type === Pipe || type === RightBrace || type === Doc) return -1;
  if (type !== Word) return next;
  if (VERBS.has(token.image)) return -1;
  for (let i = next; i < lexed.length; i++) {
    const ahead = (lexed[i] as IToken).tokenType;
    if (ahead === LeftBrace) return -1;
    if (ahead === Newline || ahead === Semicolon || ahead === RightBrace) break;
  }
  return next;
}

/** A Newline token swallows the blank lines after its own line end. */
function isBlankLine(token: IToken): boolean {
  const image = token.image;
  return image.length > 2 || (image.length === 2 && image !== "\r\n");
}

interface Open {
  readonly token: IToken;
  readonly indent: number;
  readonly line: number;
  readonly stray: boolean;
}

/** Marks braces that open or close nothing and, given the pairs to be trusted, closes all other blocks by their layout. */
function settleBraces(text: string, tokens: IToken[], trusted: ReadonlySet<IToken> | undefined, problems: SyntaxProblem[]): IToken[] {
  const out: IToken[] = [];
  const open: Open[] = [];
  let head: IToken | undefined; // first token of the item at hand
  let row = false;
  let indent = 0;
  let line = 0;
  let fresh = true; // at the first token of a line
  let deep = false;
  let depth = 0;
  for (const token of tokens) {
    const first = fresh;
    const type = token.tokenType;
    if (type === Newline) {
      out.push(token);
      head = undefined;
      row = false;
      fresh = true;
      line++;
      continue;
    }
    if (fresh) {
      fresh = false;
      indent = indentOf(text, token.startOffset);
      if (trusted !== undefined) closeByLayout(type === RightBrace);
    }
    if (type === Semicolon) {
      head = undefined;
      row = false;
    } else if (type === LeftBrace) {
      const stray = head === undefined || (head.tokenType !== Word && head.tokenType !== Key) || row;
      const tooMuch = !stray && depth >= DEPTH_LIMIT;
      if (tooMuch && !deep) {
        deep = true;
        if (!problems.some(({ span }) => span.start === token.startOffset)) problems.push(tooDeep(DEPTH_LIMIT, { start: token.startOffset, end: endOf(token) }));
      }
      open.push({ token, indent, line, stray: stray || tooMuch });
      if (!stray && !tooMuch) depth++;
      if (stray) {
        out.push(retyped(token, StrayBrace));
        head ??= token;
        continue;
      }
      out.push(tooMuch ? retyped(token, Semicolon) : token);
      head = undefined;
      row = false;
      continue;
    } else if (type === RightBrace) {
      const top = open[open.length - 1];
      const dangling = top === undefined || (trusted !== undefined && !trusted.has(top.token) && top.line !== line && (!first || indent > top.indent));
      if (dangling) {
        out.push(retyped(token, StrayBrace));
        head ??= token;
        continue;
      }
      open.pop();
      if (!top.stray) depth--;
      out.push(top.stray ? retyped(token, Semicolon) : token);
      head = undefined;
      row = false;
      continue;
    } else if (head === undefined) {
      head = token;
      row = type === Pipe;
    } else if (type === Key && !row) head = token;
    out.push(token);
  }
  return out;

  /** Closes what lies no shallower than the line at hand, which begins with a closing brace or not. */
  function closeByLayout(brace: boolean): void {
    for (let top = open[open.length - 1]; top !== undefined; top = open[open.length - 1]) {
      if (trusted?.has(top.token) === true || (brace ? indent >= top.indent : indent > top.indent)) return;
      open.pop();
      if (top.stray) continue;
      depth--;
      const last = out[out.length - 1] as IToken;
      out.push(inserted(LayoutClose, last.tokenType === Newline ? last.startOffset : endOf(last)));
    }
  }
}

/** The opening braces whose closing brace stands on the same line, or first on a line indented as theirs. */
function trustedPairs(text: string, tokens: readonly IToken[]): ReadonlySet<IToken> {
  const trusted = new Set<IToken>();
  const open: { token: IToken; indent: number; line: number }[] = [];
  let line = 0;
  let indent = 0;
  let fresh = true;
  for (const token of tokens) {
    if (token.tokenType === Newline) {
      fresh = true;
      line++;
      continue;
    }
    const first = fresh;
    if (fresh) {
      fresh = false;
      indent = indentOf(text, token.startOffset);
    }
    if (token.tokenType === LeftBrace) open.push({ token, indent, line });
    else if (token.tokenType === RightBrace) {
      const top = open.pop();
      if (top !== undefined && (top.line === line || (first && top.indent === indent))) trusted.add(top.token);
    }
  }
  return trusted;
}

/** A token of no width. */
export function inserted(type: TokenType, startOffset: number): IToken {
  return { image: "", startOffset, tokenTypeIdx: type.tokenTypeIdx as number, tokenType: type } as IToken;
}

function retyped(token: IToken, type: TokenType): IToken {
  return { ...token, tokenType: type, tokenTypeIdx: type.tokenTypeIdx as number };
}

function lineStart(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && text.charCodeAt(at - 1) !== 10 && text.charCodeAt(at - 1) !== 13) at--;
  return at;
}

/** The column of the first thing on the line of `offset`. */
function indentOf(text: string, offset: number): number {
  const start = lineStart(text, offset);
  let at = start;
  while (at < offset && (text.charCodeAt(at) === 32 || text.charCodeAt(at) === 9 || text.charCodeAt(at) === 0xfeff)) at++;
  return at - start;
}
