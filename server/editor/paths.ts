// Paths to files inside quotes, as they are typed: step by step through folders, and for `use` every build file there is at once. Reads through
// the file port; knows no protocol.
import { caretAt } from "../../grammar/caret.ts";
import type { Project } from "../model/project.ts";
import { resolveUse } from "../model/project.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { BUILD_FILE, type FolderListing } from "../workspace/host.ts";
import type { Completion } from "./completion.ts";
import { relativePath } from "./links.ts";
import { hereAt } from "./spot.ts";

/** Which files a statement names; any file but a build file where nothing is said. */
const NAMED: Readonly<Record<string, RegExp>> = { use: /\.tappet$/i, photo: /\.(?:png|jpe?g|gif|webp|svg|heic|tiff?)$/i, log: /\.(?:csv|tsv|txt|log)$/i, tune: /^(?!.*\.tappet$)/i };

export interface PathSources {
  folder(uri: string): Promise<FolderListing>;
  /** Every build file that is known, for `use`. */
  whole(): Promise<Project>;
}

/** Undefined where the caret is not in a path. */
export async function pathsAt(analysis: Analysis, uri: string, offset: number, sources: PathSources): Promise<Completion[] | undefined> {
  const here = hereAt(analysis, uri, offset);
  const caret = here && caretAt(here.declaration.tree, here.offset);
  const statement = caret?.before[0]?.text ?? "";
  const wanted = Object.hasOwn(NAMED, statement) ? NAMED[statement] : undefined;
  // Only the first string of a statement is a path: a caption follows it.
  if (!here || !caret || caret.slot !== "string" || !wanted || caret.before.slice(1).some((t) => t.text.startsWith('"'))) return undefined;
  const written = caret.token.text.replace(/^"/, "");
  const steps = written.slice(0, written.lastIndexOf("/") + 1);
  const start = caret.token.span.start + here.start + 1;
  const text = here.declaration.tree.text;
  const close = caret.whole.end > caret.token.span.start + 1 && text.charAt(caret.whole.end - 1) === '"' ? caret.whole.end - 1 : caret.whole.end;
  const whole = { start, end: Math.max(close, here.offset) + here.start };
  const offer = (path: string, detail: string, rank: number): Completion => ({ label: path, sort: path.endsWith("/") ? "folder" : "file", detail, text: path, rank, span: whole });
  const listing = await sources.folder(resolveUse(uri, `${steps === "" ? "./" : steps}x`).replace(/x$/, ""));
  const near = ("entries" in listing ? listing.entries : []).flatMap(({ name, folder }) => (folder ? [offer(`${steps}${name}/`, "", 1)] : wanted.test(name) && resolveUse(uri, steps + name) !== uri ? [offer(steps + name, "", 0)] : []));
  if (steps === "") near.push(offer("../", "", 2));
  if (statement !== "use") return near;
  const { files } = await sources.whole();
  const used = new Set(analysis.project.files.get(uri)?.declarations.flatMap((d) => (d.path && d.tree !== here.declaration.tree ? [resolveUse(uri, d.path.text)] : [])));
  const all = [...files.values()].flatMap((file) => {
    const path = file.uri === uri || used.has(file.uri) || !file.uri.endsWith(BUILD_FILE) ? undefined : relativePath(uri, file.uri);
    const names = file.declarations.flatMap((d) => (d.name ? [`${d.sort} ${d.name.text}`] : []));
    return path === undefined || names.length === 0 ? [] : [offer(path, names.slice(0, 4).join(", ") + (names.length > 4 ? " …" : ""), -1)];
  });
  const seen = new Set(all.map((o) => o.label));
  return [...all, ...near.filter((o) => !seen.has(o.label))];
}
