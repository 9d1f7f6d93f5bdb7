/** What each kilobyte of the packed extension is: its files, and within a bundle the project's own floors and each library. Knows how things were bundled, not why. */
import { readFileSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { deflateRawSync } from "node:zlib";
import type { Metafile } from "esbuild";

/** Bytes that each owner has in a bundle: a folder of the project, or a library. */
export type Shares = Readonly<Record<string, number>>;

/** By the bundle's file name. */
export function sharesOf(metafiles: readonly Metafile[]): Readonly<Record<string, Shares>> {
  const bundles: Record<string, Record<string, number>> = {};
  for (const { outputs } of metafiles)
    for (const [path, { inputs }] of Object.entries(outputs)) {
      if (path.endsWith(".map")) continue;
      const shares: Record<string, number> = (bundles[path.slice(path.lastIndexOf("/") + 1)] ??= {});
      for (const [source, { bytesInOutput }] of Object.entries(inputs)) shares[ownerOf(source)] = (shares[ownerOf(source)] ?? 0) + bytesInOutput;
    }
  return bundles;
}

function ownerOf(source: string): string {
  const library = /^(?:.*\/)?node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(source)?.[1];
  if (library !== undefined) return library;
  const steps = source.split("/");
  return steps[0] === "server" && steps.length > 2 ? `server/${steps[1]}` : (steps[0] ?? source);
}

/** A table of everything in a folder that is packed, largest first; of bundles with what they are made of. */
export function sizeTable(folder: string, shares: Readonly<Record<string, Shares>>): string {
  const kilobytes = (bytes: number) => `${(bytes / 1000).toFixed(1)} kB`.padStart(11);
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).map((name) => name.replaceAll("\\", "/")).filter((name) => name !== ".vscodeignore" && statSync(join(folder, name)).isFile());
  const sized = files.map((name) => {
    const bytes = readFileSync(join(folder, name));
    return { name, whole: bytes.length, packed: deflateRawSync(bytes, { level: 9 }).length };
  }).sort((a, b) => b.packed - a.packed);
  const lines = [`${"".padEnd(44)}${"whole".padStart(11)}${"packed".padStart(11)}`];
  for (const { name, whole, packed } of sized) {
    lines.push(`${name.padEnd(44)}${kilobytes(whole)}${kilobytes(packed)}`);
    const parts = Object.entries(shares[name.slice(name.lastIndexOf("/") + 1)] ?? {}).sort((a, b) => b[1] - a[1]);
    for (const [owner, bytes] of parts.filter(([, bytes]) => bytes >= 1000)) lines.push(`  ${owner.padEnd(42)}${kilobytes(bytes)}`);
    const rest = parts.filter(([, bytes]) => bytes < 1000).reduce((sum, [, bytes]) => sum + bytes, 0);
    if (rest > 0) lines.push(`  ${"what is less than 1 kB each".padEnd(42)}${kilobytes(rest)}`);
  }
  return lines.join("\n");
}
