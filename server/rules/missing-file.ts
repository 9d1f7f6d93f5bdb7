// A used file, or one of figures that a declaration names, that cannot be read.
import { type Unreadable, figuresOf, usesOf } from "../model/project.ts";
import type { FileRule } from "./rule.ts";

const WHY: Readonly<Record<Unreadable, string>> = {
  missing: "is not there. Correct the path, which counts from this file.",
  outside: "lies outside the opened folder, where nothing is read. Open a folder that holds both files, or move it inside.",
  "not-text": "is not a text file. Use a .tappet file.",
  "too-large": "is too large to be a build file, so it was not read. Check that the path is right.",
  unreadable: "could not be read. Check that it may be opened.",
};

const WHY_NO_FIGURES: Readonly<Record<Unreadable, string>> = {
  ...WHY,
  "not-text": "is not a text file. Save the table as comma-separated text, in UTF-8.",
  "too-large": "is too large for a table of figures (over 4 MB), so it was not read. Leave out what is not needed.",
};

export const RULE: FileRule = {
  id: "missing-file",
  scope: "file",
  severity: "error",
  page: {
    summary: "A file that is used, or one of figures that a part names, cannot be read.",
    why: "Engines, parts and cards in it are missing from every build that stands on them; so are the figures of a table.",
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
    for (const { uri, path, declaration } of figuresOf(file)) {
      const data = project.data?.get(uri);
      if (data && "print" in data) continue;
      report({ message: `"${path.text}" ${WHY_NO_FIGURES[data?.problem ?? "missing"]}`, at: { tree: declaration.tree, span: path.span } });
    }
  },
};
