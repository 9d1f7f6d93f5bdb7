// Two declarations of one sort under one name.
import { locationOf, namesOf } from "../model/project.ts";
import { fileName } from "./names.ts";
import type { FileRule } from "./rule.ts";

const SORTS = ["engine", "part", "card", "build"] as const;

export const RULE: FileRule = {
  id: "duplicate-name",
  scope: "file",
  severity: "error",
  page: {
    summary: "Two engines, parts, cards or builds in sight of each other have the same name.",
    why: "Whoever fits or follows that name gets the first one found. Which of two shafts is in the engine must not hang on the order of files.",
    limit: "None: within a file and the files it uses, a name of one sort is declared once.",
    source: "the definition of the language",
    remedy: "Rename one, or take one out.",
    bad: `
part retainer light-18 {
  source: "box label"
}

part retainer light-18 {
  source: "invoice"
}
`,
    good: `
part retainer light-18 {
  source: "box label"
}

part retainer light-20 {
  source: "invoice"
}
`,
  },
  check({ file, scope, report }) {
    for (const sort of SORTS)
      for (const [name, placed] of namesOf(scope, sort)) {
        if (placed.length < 2) continue;
        const own = placed.filter((p) => p.uri === file.uri);
        const first = placed[0];
        if (!first) continue;
        for (const one of own) {
          if (one.declaration === first.declaration) continue;
          const where = first.uri === file.uri ? "above" : `in "${fileName(first.uri)}"`;
          report({
            message: `There is already ${sort === "engine" ? "an" : "a"} ${sort} called \`${name}\` ${where}. Rename one of the two.`,
            at: locationOf(one.declaration), related: [{ message: "The other one stands here.", at: locationOf(first.declaration) }],
          });
        }
        // The file's own one is found first; another in a used file is then the one that is never reached.
        const hidden = own.length > 0 ? placed.filter((p) => p.uri !== file.uri) : [];
        const mine = own[0];
        if (mine && mine.declaration === first.declaration && own.length === 1 && hidden[0])
          report({
            message: `There is also ${sort === "engine" ? "an" : "a"} ${sort} called \`${name}\` in "${fileName(hidden[0].uri)}", which this file uses. Rename one of the two.`,
            at: locationOf(mine.declaration), related: [{ message: "The other one stands here.", at: locationOf(hidden[0].declaration) }],
          });
        if (own.length > 0) continue;
        // Both lie in used files: said where the name is used, as nothing else hangs on it.
        const reference = file.declarations.flatMap((d) => d.references.map((r) => ({ d, r }))).find(({ r }) => r.of === sort && r.name.text === name);
        if (!reference) continue;
        report({
          message: `\`${name}\` is declared both in "${fileName(first.uri)}" and in "${fileName((placed[1] as typeof first).uri)}". Rename one, or use only one of the files.`,
          at: { tree: reference.d.tree, span: reference.r.name.span },
          related: placed.slice(0, 2).map((p) => ({ message: "One of them stands here.", at: locationOf(p.declaration) })),
        });
      }
  },
};
