// Text made safe to stand in HTML: whatever a file says stays text. Knows no sheet.
import { visible } from "../../grammar/visible.ts";

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

/** Text, or an attribute's value, in which nothing is markup and nothing hides. */
export function text(raw: string): string {
  return visible(raw).replace(/[&<>"']/g, (c) => ENTITIES[c] ?? c);
}

/** Text that a person chose, kept from turning the direction of what stands beside it. */
export function name(raw: string): string {
  return /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]/.test(raw) ? `<bdi>${text(raw)}</bdi>` : text(raw);
}

/** A sentence in which `words between backticks` are code. */
export function prose(raw: string): string {
  return raw.split(/(`[^`]+`)/).map((piece) => (piece.length > 2 && piece.startsWith("`") && piece.endsWith("`") ? code(piece.slice(1, -1)) : name(piece))).join("");
}

export function code(raw: string): string {
  return `<code>${name(raw)}</code>`;
}

/** A figure with a true minus sign, as it is set in print. */
export function figure(raw: string): string {
  return name(trueMinus(raw));
}

/** The same on one line with its unit: a range breaks before its far end. */
export function wholeFigure(raw: string): string {
  return trueMinus(raw).split(WITH_UNIT).map((piece, i) => (i % 2 === 1 ? `<span class="whole">${name(piece)}</span>` : name(piece))).join("");
}

const WITH_UNIT = /((?<![^\s(])[\u2212\d.,]{1,12} [\p{L}%°][^\s,;]{0,11}(?![^\s,;]))/u;

/** The same with the words after its unit ("3 deg retarded") kept smaller than the figure. */
export function figureAndWords(raw: string): string {
  const said = trueMinus(raw);
  const [, size, words] = /^([\u2212\d.]+(?: deg)?) ([a-z].{6,})$/.exec(said) ?? [];
  return size !== undefined && words !== undefined ? `${name(size)} <span class="words">${name(words)}</span>` : wholeFigure(raw);
}

function trueMinus(raw: string): string {
  return raw.replace(/(^|\s)-(?=[\d.])/g, "$1\u2212");
}
