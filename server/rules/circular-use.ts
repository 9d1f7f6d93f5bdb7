// Files that use each other in a circle.
import { type Project, usesOf } from "../model/project.ts";
import { fileName } from "./names.ts";
import type { FileRule } from "./rule.ts";

export const RULE: FileRule = {
  id: "circular-use",
  scope: "file",
  severity: "warning",
  page: {
    summary: "A file uses itself, directly or through other files.",
    why: "The circle is followed once, so nothing is lost; but no reader can tell any more which file stands on which.",
    limit: "None: uses lead one way, as from a build to its parts and on to the engine.",
    source: "the definition of the language",
    remedy: "Move what both need into a third file and use that.",
    bad: `
use "parts.tappet"

engine dunlin-18 {
  cylinders: 4
}
--- parts.tappet
use "main.tappet"
`,
    good: `
use "parts.tappet"

engine dunlin-18 {
  cylinders: 4
}
--- parts.tappet
part retainer light-18 for any {
  source: "box label"
}
`,
  },
  check({ project, file, report }) {
    for (const use of usesOf(file)) {
      const path = use.declaration.path;
      if (!path) continue;
      const at = { tree: use.declaration.tree, span: path.span };
      if (use.uri === file.uri) report({ message: "This file uses itself. Take the line out.", at });
      else if (reaches(project, use.uri, file.uri)) report({ message: `"${fileName(use.uri)}" uses this file too, directly or through others. Move what both need into a third file.`, at });
    }
  },
};

function reaches(project: Project, from: string, to: string): boolean {
  const seen = new Set<string>();
  const queue = [from];
  while (queue.length > 0) {
    const uri = queue.pop() as string;
    if (uri === to) return true;
    if (seen.has(uri)) continue;
    seen.add(uri);
    const file = project.files.get(uri);
    if (file) queue.push(...usesOf(file).map((u) => u.uri));
  }
  return false;
}
