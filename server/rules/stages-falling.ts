// A stage of tightening that is less than the one before it.
import type { Declaration, FigureFact } from "../model/declaration.ts";
import { compareWithLimit } from "../quantity/display.ts";
import type { DeclarationRule } from "./rule.ts";
import { textAt } from "./wording.ts";

export const RULE: DeclarationRule = {
  id: "stages-falling",
  scope: "declaration",
  severity: "warning",
  page: {
    summary: "A stage of tightening asks for less torque than the stage before it.",
    why: "A wrench that is set lower than the bolt already is clicks at once and moves nothing: the stage is lost, or one of the two figures was copied wrong.",
    limit: "Each torque of `tighten` against the torque before it. Two alike are passed over: some makers go round twice. An angle between them ends the comparison.",
    source: "by definition",
    remedy: "Copy the stages again. Where the maker loosens the bolts between two stages, say so in a waiver.",
    cautions: ["tightening"],
    bad: `
engine dunlin-18 {
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; tighten: 55 N·m oiled, then 30 N·m, then 90 deg }
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; tighten: 30 N·m oiled, then 55 N·m, then 90 deg }
}
`,
  },
  check(declaration, report) {
    for (const fact of figuresOf(declaration)) {
      const name = /^fastener\.(.+)\.tighten$/.exec(fact.path)?.[1];
      if (name === undefined || fact.value.is !== "stages") continue;
      const { stages } = fact.value;
      const i = stages.findIndex((stage, at) => {
        const before = stages[at - 1];
        return before?.quantity.kind === "torque" && stage.quantity.kind === "torque" && stage.quantity.interval.high > 0 && compareWithLimit(stage.quantity.interval.high, before.quantity.interval.low) < 0;
      });
      const [before, stage] = [stages[i - 1], stages[i]];
      if (!before || !stage) continue;
      const say = (q: typeof stage) => textAt({ tree: declaration.tree, span: q.quantity.span });
      report({
        message: `Stage ${i + 1} of \`${name}\`, ${say(stage)}, is less than the ${say(before)} before it, so the wrench would turn nothing. Copy the stages again.`,
        at: { tree: declaration.tree, span: stage.quantity.span }, path: fact.path,
      });
    }
  },
};

function figuresOf(declaration: Declaration): readonly FigureFact[] {
  return [...declaration.figures, ...declaration.fits.flatMap((f) => [...f.figures, ...(f.inline?.figures ?? [])])];
}
