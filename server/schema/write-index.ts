// Writes the index of a folder that holds one declaration a file: part kinds and rules. A door of its own for developers: `node server/schema/write-index.ts`.
// Every file exports `KIND` or `RULE`; adding one and running this is all that joining the house takes.
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export interface Index {
  /** Folder, from the root of the project. */
  readonly folder: string;
  /** Name that each file exports. */
  readonly member: string;
  /** Name of the list, its type, and where the type comes from. */
  readonly list: string;
  readonly type: string;
  readonly from: string;
  readonly says: string;
}

export const INDEXES: readonly Index[] = [
  { folder: "server/schema/parts", member: "KIND", list: "PART_KINDS", type: "PartKind", from: "../types.ts", says: "Every kind of part" },
  { folder: "server/rules", member: "RULE", list: "RULES", type: "Rule", from: "./rule.ts", says: "Every rule" },
];

/** The text of an index, from the names of the files it gathers; same names, same bytes. */
export function indexText(index: Index, names: readonly string[]): string {
  const sorted = [...names].sort((a, b) => (a < b ? -1 : 1));
  const local = (name: string): string => name.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase()) + index.member[0] + index.member.slice(1).toLowerCase();
  return [
    `// ${index.says}, one file each. Written by \`node server/schema/write-index.ts\`; do not edit.`,
    `import type { ${index.type} } from "${index.from}";`,
    ...sorted.map((name) => `import { ${index.member} as ${local(name)} } from "./${name}.ts";`),
    "",
    `export const ${index.list}: readonly ${index.type}[] = [`,
    ...sorted.map((name) => `  ${local(name)},`),
    "];",
    "",
  ].join("\n");
}

/** The files of a folder that export the index's member. */
export function membersOf(root: string, index: Index): readonly string[] {
  const folder = join(root, index.folder);
  if (!existsSync(folder)) return [];
  const exported = new RegExp(`^export const ${index.member}\\b`, "m");
  return readdirSync(folder)
    .filter((file) => file.endsWith(".ts") && file !== "index.ts" && exported.test(readFileSync(join(folder, file), "utf8")))
    .map((file) => file.slice(0, -".ts".length));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
  for (const index of INDEXES) {
    const names = membersOf(root, index);
    if (names.length > 0) writeFileSync(join(root, index.folder, "index.ts"), indexText(index, names));
  }
}
