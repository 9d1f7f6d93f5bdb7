// A part that is there but is not what another part asks it to be.
import { conditionWords, fixesOf } from "./condition.ts";
import { judgeNeed, needsOf } from "./needs.ts";
import type { BuildRule } from "./rule.ts";
import { called, didYouMean, textAt } from "./wording.ts";

/** Values that a rule of their own judges, with the need's limit among those it knows. */
const JUDGED_ELSEWHERE = new Set(["coil-bind-margin", "coil-bind-margin.intake", "coil-bind-margin.exhaust"]);

export const RULE: BuildRule = {
  id: "condition-unmet",
  scope: "build",
  on: ["build"],
  severity: "error",
  page: {
    summary: "A part does not meet the condition under which another part asks for it.",
    why: "The maker of the one has tried what it takes. A gear that cannot be turned cannot set the shaft that needs it set.",
    limit: "What the part or card itself says after `where`. Error where all of the value's spread fails, warning where its nominal does.",
    source: "the part's or card's own `needs … where`",
    remedy: "Fit a part that meets the condition.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  needs cam-gear where adjustable
}

part cam-gear plain-18 for dunlin-18 {
  source: "box label"
  adjustable: no
}

build wren-hill-2 on dunlin-18 {
  fit ridgeway-272
  fit plain-18
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  needs cam-gear where adjustable
}

part cam-gear vernier-18 for dunlin-18 {
  source: "box label"
  adjustable: yes
}

build wren-hill-2 on dunlin-18 {
  fit ridgeway-272
  fit vernier-18
}
`,
  },
  check({ build, sheet, report, unchecked }) {
    for (const asked of needsOf(build, sheet)) {
      /** Where the words end that were taken for one name. */
      let told = 0;
      for (const { condition, outcome } of judgeNeed(build, sheet, asked)) {
        // A part that is not there is told as that; a condition that means nothing is told all the same.
        if ((!asked.met && outcome.is !== "nameless") || JUDGED_ELSEWHERE.has(condition.path.text) || condition.path.span.start < told) continue;
        const related = [{ message: "It is asked for here.", at: asked.at }];
        if (outcome.is === "failed") {
          const asker = called(asked.asker.declaration);
          const message = asked.kind && condition.op === undefined
            ? `${asker} needs a \`${asked.kind.id}\`${conditionWords(condition, asked.at.tree)}, and this one is not. Fit one that is.`
            : `${outcome.words}, and ${asker} asks for ${outcome.asked}${asked.kind ? ` of the ${asked.kind.id}. Fit one that meets it` : ". Change the build so that it is met"}.`;
          report({ message, at: asked.asker.at, severity: outcome.certain ? "error" : "warning", path: outcome.path, ...(outcome.amount && { amount: outcome.amount }), related });
        } else if (outcome.is === "nameless") {
          const { tree } = asked.at;
          told = outcome.span.end;
          report({ message: `Nothing here is called \`${textAt({ tree, span: outcome.span })}\`, so what ${called(asked.asker.declaration)} needs cannot be checked.${didYouMean(outcome.meant) || " Correct the name in its condition."}`, at: asked.asker.at, severity: "warning", related, fixes: fixesOf(outcome, tree) });
        }
        else if (outcome.is === "unreadable") report({ message: `The condition of ${called(asked.asker.declaration)} cannot be read: ${outcome.message}`, at: asked.asker.at, severity: "warning", related });
        else if (outcome.is === "untold") unchecked(`what ${called(asked.asker.declaration)} needs of its ${asked.need.what.text}`, outcome.missing);
      }
    }
  },
};
