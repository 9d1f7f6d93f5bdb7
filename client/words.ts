/** Finds every text that the extension's own code shows, as a table for translators. Reads sources; shows nothing. */
import { readFileSync, readdirSync } from "node:fs";

/** The table as JSON, in the order of its texts. */
export function clientWords(): string {
  const folder = new URL(".", import.meta.url);
  const texts = new Set<string>();
  for (const name of readdirSync(folder).filter((file) => file.endsWith(".ts"))) {
    const source = readFileSync(new URL(name, folder), "utf8");
    for (const [, literal = ""] of source.matchAll(/l10n\.t\(\s*("(?:[^"\\]|\\.)*")/g)) texts.add(JSON.parse(literal) as string);
  }
  return `${JSON.stringify(Object.fromEntries([...texts].sort().map((text) => [text, text])), null, 2)}\n`;
}
