// Two parts of one kind fitted in the same place.
import type { BuildRule } from "./rule.ts";
import { called } from "./wording.ts";
import { spanOfFit } from "./placed.ts";

export const RULE: BuildRule = {
  id: "part-replaced-twice",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Two parts of the same kind are fitted where an engine takes one.",
    why: "Only the later one counts. The earlier one is a leftover, or one of the two was meant for the other side.",
    limit: "One of a kind, or one a side where the kind allows it. Kinds that an engine takes several of are not counted.",
    source: "the definition of the language",
    remedy: "Take the one out that is not in the engine, or say which side each serves: fit NAME for intake.",
    bad: `
engine dunlin-18 { cylinders: 4 }
part retainer light-18 for dunlin-18 { source: "box label"; mass: 11 g }
part retainer steel-18 for dunlin-18 { source: "box label"; mass: 14 g }

build wren-hill-2 on dunlin-18 {
  fit light-18
  fit steel-18
}
`,
    good: `
engine dunlin-18 { cylinders: 4 }
part retainer light-18 for dunlin-18 { source: "box label"; mass: 11 g }
part retainer steel-18 for dunlin-18 { source: "box label"; mass: 14 g }

build wren-hill-2 on dunlin-18 {
  fit light-18 for intake
  fit steel-18 for exhaust
}
`,
  },
  check({ build, report }) {
    build.parts.forEach((part, i) => {
      if (!part.kind || part.kind.several) return;
      const before = build.parts.slice(0, i).find((p) => p.kindId === part.kindId && (p.side === undefined || part.side === undefined || p.side === part.side));
      if (!before) return;
      const sided = part.kind.sided ? " Take one out, or say which side each serves." : " Take one out.";
      report({
        message: `${called(before.declaration)} is already fitted as ${part.kindId}, and ${called(part.declaration)} is one too; only the later one counts.${sided}`,
        at: { tree: build.subject.tree, span: spanOfFit(part.fit) },
        related: [{ message: "The other one stands here.", at: { tree: build.subject.tree, span: spanOfFit(before.fit) } }],
      });
    });
  },
};
