// A part fitted to an engine that it was not made for.
import type { BuildRule } from "./rule.ts";
import { called } from "./wording.ts";
import { isGoodFor, madeFor, partialScopes } from "./scope-of-card.ts";
import { spanOfFit } from "./placed.ts";

export const RULE: BuildRule = {
  id: "part-for-other-engine",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A build fits a part that was made for another engine.",
    why: "It may fit and may even be right, but its lash, timing and loads were chosen for other surroundings.",
    limit: "The engine that the build stands on against the engines that the part says it is for.",
    source: "the part's own `for`",
    remedy: "Fit the part made for this engine, or waive this with the reason why it fits.",
    bad: `
engine dunlin-18 { cylinders: 4 }
engine dunlin-20 { cylinders: 4 }

part camshaft ridgeway-264 "Ridgeway 264" for dunlin-20 {
  source: "cam card in the box"
}

build wren-hill-2 on dunlin-18 {
  fit ridgeway-264
}
`,
    good: `
engine dunlin-18 { cylinders: 4 }
engine dunlin-20 { cylinders: 4 }

part camshaft ridgeway-264 "Ridgeway 264" for dunlin-18, dunlin-20 {
  source: "cam card in the box"
}

build wren-hill-2 on dunlin-18 {
  fit ridgeway-264
}
`,
  },
  check({ build, report }) {
    const engine = build.engine?.name?.text;
    if (engine === undefined) return;
    for (const { declaration, fit } of build.parts) {
      if (fit.inline || isGoodFor(declaration, engine) || partialScopes(declaration).length > 0) continue;
      report({
        message: `${called(declaration)} is made for ${madeFor(declaration)}, and this build stands on ${engine}. Fit one made for ${engine}, or waive this with the reason why it fits.`,
        at: { tree: build.subject.tree, span: spanOfFit(fit) },
        related: declaration.scopes.map((s) => ({ message: "The part says so here.", at: { tree: declaration.tree, span: s.engine.span } })),
      });
    }
  },
};
