// A used file that cannot be read.
import { type Unreadable, usesOf } from "../model/project.ts";
import type { FileRule } from "./rule.ts";

const WHY: Readonly<Record<Unreadable, string>> = {
  missing: "is not there. Correct the path, which counts from this file.",
  outside: "lies outside the opened folder, where nothing is read. Open a folder that holds both files, or move it inside.",
  "not-text": "is not a text file. Use a .tappet file.",
  "too-large": "is too large to be a build file, so it was not read. Check that the path is right.",
  unreadable: "could not be read. Check that it may be opened.",
};

export const RULE: FileRule = {
  id: "missing-file",
  scope: "file",
  severity: "error",
  page: {
    summary: "A file that is used cannot be read.",
    why: "Engines, parts and cards in it are missing from every build that stands on them.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Correct the path: it counts from the file that uses it.",
    bad: `
use "engines/dunlin-18.tappet"
`,
    good: `
use "engines/dunlin-18.tappet"
--- engines/dunlin-18.tappet
engine dunlin-18 {
  cylinders: 4
}
`,
  },
  check({ project, file, report }) {
    for (const use of usesOf(file)) {
      const path = use.declaration.path;
      if (!path || project.files.has(use.uri)) continue;
      report({ message: `"${path.text}" ${WHY[project.unreadable.get(use.uri) ?? "missing"]}`, at: { tree: use.declaration.tree, span: path.span } });
    }
  },
};
