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

/** Files of the project that declare a name of a sort, nearest first by the length of their path. */
export function declaringFiles(project: Project, sort: string, name: string, except: readonly ProjectFile[]): string[] {
  const found: string[] = [];
  for (const file of project.files.values())
    if (!except.includes(file) && file.declarations.some((d) => d.sort === sort && d.name?.text === name)) found.push(file.uri);
  return found.sort((a, b) => a.length - b.length || (a < b ? -1 : 1));
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
