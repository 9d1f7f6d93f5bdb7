// Words put together as they are spoken. Knows no figure and no engine.

/** The first letter as it stands at the head of a sentence; a word between backticks stays as it is. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** "a, b and c". */
export function allOf(words: readonly string[]): string {
  return words.length <= 1 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
}
