// Two workshops seen from one file.
import { scopeOf, usesOf } from "../model/project.ts";
import { wordsFor } from "../model/effective.ts";
import type { FileRule } from "./rule.ts";

export const RULE: FileRule = {
  id: "second-shop",
  scope: "file",
  severity: "warning",
  page: {
    summary: "A file sees two workshops.",
    why: "Only one of them counts: its wrenches, blades, units and severities. Whoever reads the other believes that it does.",
    limit: "None: the workshop that is used first counts.",
    source: "the definition of the language",
    remedy: "Use one of them.",
    bad: `
use "shed.tappet"
use "club.tappet"
--- shed.tappet
shop shed { altitude: 210 m }
--- club.tappet
shop club { altitude: 40 m }
`,
    good: `
use "shed.tappet"
--- shed.tappet
shop shed { altitude: 210 m }
`,
  },
  check({ project, file, scope, report }) {
    const [first, second] = scope.shops;
    if (!first || !second) return;
    const message = `Two workshops are known here, ${wordsFor(first.declaration)} and ${wordsFor(second.declaration)}: only the first counts. Use one of them.`;
    if (second.uri === file.uri) {
      report({ message, at: { tree: second.declaration.tree, span: second.declaration.name?.span ?? second.declaration.wordSpan } });
      return;
    }
    // The use that brings it; where another file is to blame, that one says so.
    const use = usesOf(file).find((u) => u.uri === second.uri || scopeOf(project, u.uri).shops.some((s) => s.declaration === second.declaration));
    const own = use && scopeOf(project, use.uri).shops;
    if (!use?.declaration.path || (own && own.length > 1 && own[0]?.declaration === first.declaration)) return;
    report({ message, at: { tree: use.declaration.tree, span: use.declaration.path.span }, related: [{ message: "The one that counts.", at: { tree: first.declaration.tree, span: first.declaration.name?.span ?? first.declaration.wordSpan } }] });
  },
};
