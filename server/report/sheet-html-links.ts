// How the sheet's HTML leads to files and fixes: buttons where a page can act on them, plain text where it cannot.
import { figureAndWords, prose, text } from "./markup.ts";
import { type Place, lineWords } from "./place.ts";

export interface Links {
  /** Whether the page can act and changes while it is read. */
  readonly live: boolean;
  /** One sentence on what can be opened and followed. */
  readonly hint: string;
  /** A place in full, file and line; nothing for no place. */
  readonly place: (at: Place | undefined) => string;
  /** A place by its line alone, where the file is named beside it. */
  readonly line: (at: Place | undefined) => string;
  /** A figure, which leads to the line that it rests on first. */
  readonly figure: (shown: string, at: Place | undefined) => string;
  readonly fix: (title: string, index: number) => string;
}

export function linksTo(links: "jump" | "text"): Links {
  return links === "jump" ? JUMPS : TEXTS;
}

const OPENS = 'The mark <span aria-hidden="true">▸</span> opens how a figure was worked out';

const TEXTS: Links = {
  live: false,
  hint: `${OPENS}.`,
  place: (at) => (at ? `<span class="place">${text(lineWords(at))}</span>` : ""),
  line: (at) => (at ? `<span class="place">${text(lineOnly(at))}</span>` : ""),
  figure: (shown) => figureAndWords(shown),
  fix: (title) => prose(title),
};

const JUMPS: Links = {
  live: true,
  hint: `${OPENS}; the figure itself leads to its line in the file.`,
  place: (at) => (at ? jump(at, "place", text(lineWords(at))) : ""),
  line: (at) => (at ? jump(at, "place", text(lineOnly(at))) : ""),
  figure: (shown, at) => (at ? jump(at, "go", figureAndWords(shown), `Go to ${lineWords(at)}`) : figureAndWords(shown)),
  fix: (title, index) => `<button type="button" data-fix="${index}">${prose(title)}</button>`,
};

function jump(at: Place, kind: string, inner: string, title?: string): string {
  const { line, column } = at.range.start;
  return `<button type="button" class="${kind}" data-file="${text(at.uri)}" data-line="${line}" data-column="${column}"${title !== undefined ? ` title="${text(title)}"` : ""}>${inner}</button>`;
}

function lineOnly(at: Place): string {
  return `line ${at.range.start.line}`;
}
