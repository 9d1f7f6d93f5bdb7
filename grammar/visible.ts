// Makes characters seen that a page or a terminal would act on instead of showing. Knows no markup.

// Controls, except the tab; marks that turn the direction of writing (Unicode TR 9); characters without width; line and paragraph separators;
// halves of surrogate pairs.
const HIDDEN = /[\u0000-\u0008\u000a-\u001f\u007f-\u009f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]|\udb40[\udc00-\udc7f]/g;

/** A single line of text in which nothing hides: line ends become spaces, a right-to-left override is printed as ⟨U+202E⟩. */
export function visible(text: string): string {
  return text.replace(/\r\n|\r|\n|\t/g, " ").replace(HIDDEN, codeOf);
}

/** The same, tabs kept: for a line of a file under which something is underlined. */
export function visibleLine(text: string): string {
  return text.replace(HIDDEN, codeOf);
}

function codeOf(character: string): string {
  return `⟨U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}⟩`;
}

/** Text of at most so many characters, cut between characters and marked where it is cut. */
export function shortened(text: string, most: number): string {
  if (text.length <= most) return text;
  const characters = [...text];
  return characters.length <= most ? text : `${characters.slice(0, most - 1).join("")}…`;
}
