// A card followed on an engine that it was not made for.
import type { BuildRule } from "./rule.ts";
import { isGoodFor, liesIn, madeFor, partialScopes } from "./scope-of-card.ts";
import { allOf } from "./wording.ts";

export const RULE: BuildRule = {
  id: "card-for-other-engine",
  scope: "build",
  on: ["build"],
  severity: "error",
  page: {
    summary: "A build follows a card that was made for another engine, or for another part of the engine.",
    why: "Its figures are right somewhere else. A bolt torque or a lash from the neighbouring engine looks just as good on paper.",
    limit: "The engine that the build stands on against the engines that the card says it is good for. A card for a part of an engine, as `for dunlin-20 bottom-end`, may be followed on any build, but gives figures of that part only.",
    source: "the card's own `for`",
    remedy: "Follow the card made for this engine. If the figures are known to hold, say so on the card: `for dunlin-18, dunlin-20`.",
    bad: `
engine dunlin-18 { cylinders: 4 }
engine dunlin-20 { cylinders: 4 }

card lash-20 for dunlin-20 {
  source: "workshop manual, 2.0 supplement"
  valve-gear { intake { lash: 0.25 ± 0.03 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  follow lash-20
}
`,
    good: `
engine dunlin-18 { cylinders: 4 }
engine dunlin-20 { cylinders: 4 }

card bottom-20 for dunlin-20 bottom-end {
  source: "workshop manual, 2.0 supplement"
  stroke: 88.00 mm
}

build wren-hill-2 on dunlin-18 {
  follow bottom-20
}
`,
  },
  check({ build, report }) {
    const engine = build.engine?.name?.text;
    if (engine === undefined) return;
    for (const { declaration, follow } of build.cards) {
      if (isGoodFor(declaration, engine)) continue;
      const at = { tree: build.subject.tree, span: follow.name.span };
      const parts = partialScopes(declaration);
      if (parts.length === 0) {
        report({
          message: `\`${follow.name.text}\` is a card for ${madeFor(declaration)}, and this build stands on ${engine}. Follow the card made for ${engine}.`,
          at, related: declaration.scopes.map((s) => ({ message: "The card says so here.", at: { tree: declaration.tree, span: s.engine.span } })),
        });
        continue;
      }
      const areas = parts.flatMap((s) => s.areas.map((a) => a.text));
      const outside = declaration.figures.find((f) => !liesIn(f, areas));
      if (!outside) continue;
      report({
        message: `\`${follow.name.text}\` is good for ${allOf([...new Set(areas)])} only, and it also gives \`${outside.written}\`. Move that figure to a card of its own.`,
        at, severity: "warning", path: outside.path, related: [{ message: "The figure stands here.", at: { tree: declaration.tree, span: outside.span } }],
      });
    }
  },
};
