// Files divided into shares that can be checked one after the other or side by side: those that use the same go together, so that little is read
// twice. What a share's files use besides is read with them; how they are divided changes nothing in what is found. Knows no thread.
import { resolveUse } from "../model/project.ts";
import { byCodePoint } from "./host.ts";

export interface Given {
  readonly uri: string;
  readonly text: string;
}

/** Found without reading the file: what is missed or taken for a use costs time and changes no finding. */
const USE = /^use[ \t]+"([^"\r\n]*)"/gm;

/** At the most `many` shares of about the same length of text, each file in one of them. */
export function sharesOf(files: readonly Given[], many: number): readonly (readonly Given[])[] {
  const byUri = new Map(files.map((file) => [file.uri, file]));
  const uses = new Map(files.map(({ uri, text }) => [uri, [...text.matchAll(USE)].map((m) => resolveUse(uri, m[1] as string)).filter((used) => used !== uri && byUri.has(used))]));
  const used = new Set([...uses.values()].flat());
  const key = new Map([...uses].map(([uri, own]) => [uri, own.join("\n")]));
  const first = files.filter(({ uri }) => !used.has(uri)).sort((a, b) => byCodePoint(key.get(a.uri) ?? "", key.get(b.uri) ?? ""));
  const enough = files.reduce((sum, { text }) => sum + text.length, 0) / many;
  const shares: Given[][] = [[]];
  let length = 0;
  const taken = new Set<string>();
  // Those that nothing uses bring what they use; what is left then uses itself in circles.
  for (const { uri: from } of [...first, ...files]) {
    if (taken.has(from)) continue;
    if (length >= enough && shares.length < many) {
      shares.push([]);
      length = 0;
    }
    const group = new Set([from]);
    for (const uri of group) for (const other of uses.get(uri) ?? []) group.add(other);
    for (const uri of group) {
      const file = byUri.get(uri);
      if (!file || taken.has(uri)) continue;
      taken.add(uri);
      shares.at(-1)?.push(file);
      length += file.text.length;
    }
  }
  return shares;
}
