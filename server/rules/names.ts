// Names and files as rules speak of them: how a file is called, how one file reaches another. Resolves nothing itself.
import type { ProjectFile, Project } from "../model/project.ts";
import type { Edit } from "./finding.ts";

/** The last step of a path, readable. */
export function fileName(uri: string): string {
  return decoded(uri.slice(uri.lastIndexOf("/") + 1));
}

/** The path that a `use` in one file would name another by. */
export function pathFrom(fromUri: string, toUri: string): string {
  const from = fromUri.split("/").slice(0, -1);
  const to = toUri.split("/");
  let shared = 0;
  while (shared < from.length && shared < to.length - 1 && from[shared] === to[shared]) shared++;
  return [...from.slice(shared).map(() => ".."), ...to.slice(shared)].map(decoded).join("/");
}

const declaredIn = new WeakMap<Project["files"], ReadonlyMap<string, readonly ProjectFile[]>>();

/** By sort and name: the files that declare it. Gone through once, as a folder may lack thousands of names. */
function declarersIn({ files }: Project): ReadonlyMap<string, readonly ProjectFile[]> {
  let known = declaredIn.get(files);
  if (known === undefined) {
    const found = new Map<string, ProjectFile[]>();
    for (const file of files.values())
      for (const key of new Set(file.declarations.flatMap((d) => (d.name ? `${d.sort} ${d.name.text}` : [])))) {
        const own = found.get(key);
        if (own) own.push(file);
        else found.set(key, [file]);
      }
    declaredIn.set(files, (known = found));
  }
  return known;
}

/** Files of the project that declare a name of a sort, nearest first by the length of their path. */
export function declaringFiles(project: Project, sort: string, name: string, except: readonly ProjectFile[]): string[] {
  const files = declarersIn(project).get(`${sort} ${name}`) ?? [];
  return files.filter((file) => !except.includes(file)).map((file) => file.uri).sort((a, b) => a.length - b.length || (a < b ? -1 : 1));
}

/** A `use` of a path, after the file's last one, else at its head. Undefined for a file without any text. */
export function useEdit(file: ProjectFile, path: string): Edit | undefined {
  const last = file.declarations.findLast((d) => d.sort === "use");
  if (last) return { tree: last.tree, span: { start: last.span.end, end: last.span.end }, text: `\nuse "${path}"` };
  const first = file.declarations[0];
  return first && { tree: first.tree, span: { start: 0, end: 0 }, text: `use "${path}"\n\n` };
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    // A stray percent sign: the name as it stands.
    return text;
  }
}
