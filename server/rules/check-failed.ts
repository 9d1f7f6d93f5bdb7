// A check of the builder's own that does not hold.
import { fixesOf, judge } from "./condition.ts";
import type { BuildRule } from "./rule.ts";
import { didYouMean } from "./wording.ts";

export const RULE: BuildRule = {
  id: "check-failed",
  scope: "build",
  on: ["build"],
  severity: "error",
  page: {
    summary: "A check that the build sets itself does not hold.",
    why: "You wrote the limit down because it matters to you. It is held to like any other.",
    limit: "The check's own. Error where all of the value's spread fails, warning where its nominal does.",
    source: "the build's own `check`",
    remedy: "Change the build, or the limit if it was wrong.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
}

build wren-hill-2 on dunlin-18 {
  redline: 7900 rpm
  check "cast pistons" piston-speed.mean <= 20 m/s
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
}

build wren-hill-2 on dunlin-18 {
  redline: 7300 rpm
  check "cast pistons" piston-speed.mean <= 20 m/s
}
`,
  },
  check({ build, sheet, report, unchecked }) {
    const { tree } = build.subject;
    for (const { title, condition, span } of build.subject.checks) {
      const outcome = judge(condition, { build, sheet }, tree);
      const named = title === undefined ? "This check" : `The check "${title}"`;
      const at = { tree, span: condition.span.end > condition.span.start ? condition.span : span };
      if (outcome.is === "failed") report({ message: `${named} does not hold: ${lowerFirst(outcome.words)}, and it asks for ${outcome.asked}. Change the build, or the limit if it is wrong.`, at, severity: outcome.certain ? "error" : "warning", path: outcome.path, ...(outcome.amount && { amount: outcome.amount }) });
      else if (outcome.is === "nameless") report({ message: `${named} cannot be made: nothing here is called \`${condition.path.text}\`.${didYouMean(outcome.meant) || " The sheet shows the names of all values."}`, at: { tree, span: condition.path.span }, fixes: fixesOf(outcome, tree) });
      else if (outcome.is === "unreadable") report({ message: `${named} cannot be made: ${lowerFirst(outcome.message)}`, at });
      else if (outcome.is === "untold") unchecked(title === undefined ? `your check of ${condition.path.text}` : `your check "${title}"`, outcome.missing);
    }
  },
};

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
