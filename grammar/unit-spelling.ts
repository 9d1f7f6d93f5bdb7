// Finds the unit that is spelt at a place in a text. Knows spellings only, not what they measure.
import { UNIT_SPELLINGS_LONGEST_FIRST, unitOfSpelling } from "./vocabulary.ts";

interface Spelling {
  readonly exact: string;
  readonly folded: string;
}

/** Spellings by their first character in either case, longest first. */
const byFirst = new Map<number, Spelling[]>();
for (const exact of UNIT_SPELLINGS_LONGEST_FIRST) {
  const spelling = { exact, folded: exact.toLowerCase() };
  const firsts = new Set([exact.charCodeAt(0), exact.charAt(0).toLowerCase().charCodeAt(0), exact.charAt(0).toUpperCase().charCodeAt(0)]);
  for (const first of firsts) {
    const known = byFirst.get(first);
    if (known === undefined) byFirst.set(first, [spelling]);
    else known.push(spelling);
  }
}

/** True where `folded` stands at `offset`, whatever the case it is written in. */
function isSpelt(text: string, offset: number, folded: string): boolean {
  for (let i = 0; i < folded.length; i++) {
    const code = text.charCodeAt(offset + i);
    if (code === folded.charCodeAt(i) || (code >= 65 && code <= 90 && code + 32 === folded.charCodeAt(i))) continue;
    // Beyond ASCII one letter may fold to several, so that the whole is folded at once.
    return code > 127 && text.slice(offset, offset + folded.length).toLowerCase() === folded;
  }
  return true;
}

function isWordCode(code: number): boolean {
  return (code >= 97 && code <= 122) || (code >= 65 && code <= 90) || (code >= 48 && code <= 57) || code === 95
    || code === 0xb2 || code === 0xb3 || code === 0xb5 || (code >= 0xc0 && code <= 0x2af && code !== 0xd7 && code !== 0xf7) || (code >= 0x370 && code <= 0x1fff);
}

/** True when nothing glued at `end` would make the spelling before it part of something longer. */
function endsUnit(text: string, end: number, last: number): boolean {
  const code = text.charCodeAt(end);
  if (end >= text.length || code === 32) return true;
  // A sign such as ° or % needs no blank after it unless letters follow: 8°crank is written, 8°C is a temperature.
  if (isWordCode(code)) return !isWordCode(last);
  if (code === 0xb7 || code === 0x22c5 || code === 0x2022) return !isWordCode(text.charCodeAt(end + 1));
  if (code === 45) return !isWordCode(text.charCodeAt(end + 1));
  if (code === 47) {
    const after = text.charCodeAt(end + 1);
    return !isWordCode(after) || (after >= 48 && after <= 57);
  }
  return true;
}

function beforeColon(text: string, end: number): boolean {
  let at = end;
  while (text.charCodeAt(at) === 32 || text.charCodeAt(at) === 9) at++;
  return text.charCodeAt(at) === 58;
}

/** The length of the longest unit spelling at `offset`, or 0. Exact spellings win over those that differ in case. Never before ":". */
export function unitLengthAt(text: string, offset: number): number {
  const candidates = byFirst.get(text.charCodeAt(offset));
  if (candidates === undefined) return 0;
  for (const { exact, folded } of candidates) {
    const end = offset + exact.length;
    if (!text.startsWith(exact, offset)) {
      if (end > text.length || !isSpelt(text, offset, folded) || unitOfSpelling(text.slice(offset, end)) === undefined) continue;
    }
    if (!endsUnit(text, end, text.charCodeAt(end - 1))) continue;
    return beforeColon(text, end) ? 0 : exact.length;
  }
  return 0;
}
