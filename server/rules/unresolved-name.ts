// A name that nothing in sight declares.
import { nearest } from "../schema/lookup.ts";
import { type Scope, namesOf, usesOf } from "../model/project.ts";
import type { Fix } from "./finding.ts";
import { declaringFiles, pathFrom, useEdit } from "./names.ts";
import type { FileRule } from "./rule.ts";
import { didYouMean } from "./wording.ts";

const SORTS = ["engine", "part", "card", "build"] as const;
const SAYS: Readonly<Record<string, string>> = { part: "fit", card: "follow" };

export const RULE: FileRule = {
  id: "unresolved-name",
  scope: "file",
  severity: "error",
  page: {
    summary: "A name that neither this file nor any file it uses declares.",
    why: "A part that is not found is not fitted: its figures and its conditions are missing from the build, and nothing else says so.",
    limit: "None: a name is declared in this file, or in a file that it uses, directly or through others.",
    source: "the definition of the language",
    remedy: "Correct the spelling, or use the file that declares it.",
    bad: `
engine dunlin-18 {
  cylinders: 4
}

build wren-hill-2 on dunlin-81 {
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
}
`,
  },
  check({ project, file, scope, everywhere, report }) {
    // While a file in sight cannot be read, what it declares is not known, and the missing file is the cause to put right.
    const blind = hasUnreadFile(scope, (uri) => project.files.has(uri));
    for (const declaration of file.declarations)
      for (const { of, name, role } of declaration.references) {
        if (of === "file" || namesOf(scope, of).has(name.text)) continue;
        const at = { tree: declaration.tree, span: name.span };
        const other = SORTS.find((sort) => sort !== of && namesOf(scope, sort).has(name.text));
        if (other) {
          const instead = SAYS[other] ? ` Write \`${SAYS[other]} ${name.text}\`.` : ` \`${role}\` takes ${article(of)}.`;
          report({ message: `\`${name.text}\` is ${article(other)}, not ${article(of)}.${instead}`, at });
          continue;
        }
        const files = declaringFiles(everywhere(), of, name.text, scope.files);
        if (blind && files.length === 0) continue;
        const near = nearest(name.text, [...namesOf(scope, of).keys()]);
        const paths = files.slice(0, MOST_OFFERED).map((uri) => pathFrom(file.uri, uri));
        const fixes: Fix[] = [
          ...paths.flatMap((path): Fix[] => {
            const edit = useEdit(file, path);
            return edit ? [{ title: `Use "${path}"`, safe: false, edits: [edit] }] : [];
          }),
          ...near.map((n): Fix => ({ title: `Change to ${n}`, safe: false, edits: [{ tree: declaration.tree, span: name.span, text: n }] })),
        ];
        const help = paths[0] !== undefined ? ` "${paths[0]}" declares one: use that file.` : near.length > 0 ? didYouMean(near) : " Declare it, or use the file that does.";
        report({ message: `No ${of} called \`${name.text}\` is declared in this file or in the files it uses.${help}`, at, fixes });
      }
  },
};

/** Of many files that declare the name, as many as a builder would choose among; the nearest come first. */
const MOST_OFFERED = 3;

function hasUnreadFile(scope: Scope, isRead: (uri: string) => boolean): boolean {
  return scope.files.some((file) => usesOf(file).some((use) => !isRead(use.uri)));
}

function article(sort: string): string {
  return sort === "engine" ? "an engine" : `a ${sort}`;
}
