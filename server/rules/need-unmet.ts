// A part that asks for another part, which is not fitted.
import { pullsOf } from "../sheet/pull.ts";
import { conditionWords } from "./condition.ts";
import type { Fix } from "./finding.ts";
import { judgeNeed, needsOf } from "./needs.ts";
import { doneOn, fullLoadRuns, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { fitTemplate } from "./template.ts";
import { called } from "./wording.ts";

export const RULE: BuildRule = {
  id: "need-unmet",
  scope: "build",
  on: ["build"],
  severity: "error",
  page: {
    summary: "A fitted part needs another part, and none is fitted.",
    why: "A camshaft that asks for springs will float its valves or drive the old springs solid.",
    limit: "What the part or card itself says that it `needs`. A stock part will do only where the need says `where` it is enough, and it is. A tune is missed once the engine has run at full load; before that, once it has run at all, a word is said.",
    source: "the part's or card's own `needs`",
    remedy: "Fit the part that is asked for. The fix lays it out with the figures that are wanted left open.",
    cautions: ["spring-energy"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  needs retainer
}

build wren-hill-2 on dunlin-18 {
  fit ridgeway-272
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  needs retainer
}

build wren-hill-2 on dunlin-18 {
  fit ridgeway-272
  fit retainer { mass: 11 g }
}
`,
  },
  check({ build, sheet, report }) {
    for (const asked of needsOf(build, sheet)) {
      const { asker, need, at, kind, met } = asked;
      if (met) continue;
      // A tune comes after running-in. Until the engine has run nothing is late; until it is fully loaded a word will do.
      const tune = need.what.text === "tune";
      const loaded = tune && (pullsOf(build).length > 0 || fullLoadRuns(build).length > 0 || doneOn(build, "full-load") !== undefined);
      if (tune && !loaded) {
        if (recordsOf(build, "run").length > 0 || doneOn(build, "first-start"))
          report({ message: `${called(asker.declaration)} needs a \`tune\`${need.after ? ` after ${need.after.text}` : ""}, and none is written down yet. Full load waits for it.`, at: asker.at, path: "tune", severity: "advice", related: [{ message: "It is asked for here.", at }] });
        continue;
      }
      const fixes: Fix[] = [];
      // A condition that means nothing is told by itself.
      const where = judgeNeed(build, sheet, asked).flatMap(({ condition, outcome }) => (outcome.is === "nameless" ? [] : [condition]));
      const edit = kind && fitTemplate(build, kind, where.map((c) => c.path.text));
      if (kind && edit) fixes.push({ title: `Lay out a ${kind.id} to fill in`, safe: false, edits: [edit] });
      const condition = where.map((c) => conditionWords(c, at.tree)).join(" and");
      const what = kind ? `a \`${kind.id}\`${condition}, and none is fitted. Fit one` : `a \`${need.what.text}\`${need.after ? ` after ${need.after.text}` : ""}, and this build has none. Add one`;
      report({ message: `${called(asker.declaration)} needs ${what}.`, at: asker.at, path: need.what.text, fixes, related: [{ message: "It is asked for here.", at }] });
    }
  },
};
