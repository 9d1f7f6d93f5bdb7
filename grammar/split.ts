// Cuts a text into its declarations without reading them. Knows the words that open a declaration and how comments and strings end.
import { blockCommentEnd, forgetTokens } from "./tokens.ts";
import { TOP_WORDS } from "./vocabulary.ts";

const OPENER = `(?:${TOP_WORDS.join("|")})(?![\\w.\\u00c0-\\uffff-]|[ \\t]*:)`;
const OPENER_ONLY = new RegExp(`^${OPENER}`, "gm");
const OPENER_OR_COMMENT = new RegExp(`^${OPENER}|"[^"\\r\\n]*"?|//[^\\r\\n]*|/\\*`, "gm");

/**
 * Where each declaration begins, from `from` on (which begins one), until `stop` says that the rest is known. `openComment`: a block
 * comment that is never closed was met, and whether it stays so hangs on the whole text after it.
 */
export function findStarts(text: string, from: number, stop: (start: number) => boolean): { readonly starts: number[]; readonly openComment: boolean } {
  const starts: number[] = [];
  let openComment = false;
  const pattern = text.indexOf("/*", from) < 0 ? OPENER_ONLY : OPENER_OR_COMMENT;
  let first = true;
  pattern.lastIndex = from;
  for (let found = pattern.exec(text); found !== null; found = pattern.exec(text)) {
    const at = found.index;
    const code = text.charCodeAt(at);
    if (code === 34) continue;
    if (code === 47) {
      if (text.charCodeAt(at + 1) !== 42) continue;
      const comment = blockCommentEnd(text, at);
      openComment ||= !comment.closed;
      pattern.lastIndex = comment.end;
      continue;
    }
    if (!beginsLine(text, at)) continue;
    const start = withCommentsAbove(text, at, Math.max(from, starts[starts.length - 1] ?? from));
    if (first && start === from) {
      first = false;
      continue;
    }
    first = false;
    if (start <= (starts[starts.length - 1] ?? from)) continue;
    if (stop(start)) {
      starts.push(start);
      break;
    }
    starts.push(start);
  }
  forgetTokens();
  return { starts, openComment };
}

/** `^` also matches after U+2028, which ends no line here. */
function beginsLine(text: string, at: number): boolean {
  if (at === 0) return true;
  const code = text.charCodeAt(at - 1);
  return code === 10 || code === 13 || (code === 0xfeff && at === 1);
}

/** Moves a start up over the comment lines directly above it, but not beyond `floor`. */
function withCommentsAbove(text: string, at: number, floor: number): number {
  let start = at;
  while (start > floor) {
    const above = lineAbove(text, start);
    if (above < floor || !isCommentLine(text, above)) return start;
    start = above;
  }
  return start;
}

function lineAbove(text: string, start: number): number {
  let at = start - 1;
  if (text.charCodeAt(at) === 10 && text.charCodeAt(at - 1) === 13) at--;
  while (at > 0 && text.charCodeAt(at - 1) !== 10 && text.charCodeAt(at - 1) !== 13) at--;
  return at;
}

function isCommentLine(text: string, at: number): boolean {
  let i = at;
  while (text.charCodeAt(i) === 32 || text.charCodeAt(i) === 9 || text.charCodeAt(i) === 0xfeff) i++;
  return text.startsWith("//", i);
}
