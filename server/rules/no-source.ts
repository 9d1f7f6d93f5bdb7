// Figures of which nobody says where they come from.
import type { Declaration } from "../model/declaration.ts";
import type { BuildRule } from "./rule.ts";
import { allOf, called } from "./wording.ts";

export const RULE: BuildRule = {
  id: "no-source",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "A build rests on figures of which nothing says where they were copied from.",
    why: "When a figure looks wrong, the source is where it is looked up again. Without one it can only be believed.",
    limit: "None. It is said once a build, with everything that lacks a source named in it.",
    source: "common practice, no source",
    remedy: "Add source and the book and page, or the card in the box.",
    bad: `
engine dunlin-18 {
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
}
`,
  },
  check({ build, report }) {
    const all: Declaration[] = [...(build.engine ? [build.engine] : []), ...build.parts.filter((p) => !p.fit.inline).map((p) => p.declaration), ...build.cards.map((c) => c.declaration)];
    const bare = all.filter((d) => d.figures.length > 0 && !d.figures.some((f) => f.key.key === "source"));
    if (bare.length === 0) return;
    report({
      message: `Nothing says where the figures of ${allOf([...new Set(bare.map(called))])} come from. Add source: and the book and page.`,
      at: { tree: build.subject.tree, span: build.subject.name?.span ?? build.subject.wordSpan },
      related: bare.map((d) => ({ message: `${called(d)} has no source.`, at: { tree: d.tree, span: d.name?.span ?? d.wordSpan } })),
    });
  },
};
