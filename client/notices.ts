/** The licences of the libraries that a bundle contains, as their makers ask; knows nothing of how it was bundled. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** One text for the packages that own these source files; paths are relative to `root`, as the bundler reports them. */
export function writeNotices(root: string, sources: Iterable<string>): string {
  const folders = new Set<string>();
  for (const source of sources) {
    const found = /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(source);
    if (found) folders.add(found[0]);
  }
  const notices = [...folders].toSorted().map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(join(root, folder, "package.json"), "utf8")) as Record<string, string>;
    return `${name} ${version} (${license})\n\n${readLicence(join(root, folder))}`;
  });
  return `Tappet contains these libraries, each under its own licence.\n\n${notices.join(`\n\n${"-".repeat(80)}\n\n`)}\n`;
}

function readLicence(folder: string): string {
  const name = readdirSync(folder).find((file) => /^(licen[cs]e|copying)(\.|$)/i.test(file));
  const path = name ? join(folder, name) : "";
  return existsSync(path) ? readFileSync(path, "utf8").trim() : "Its package holds no licence text.";
}
