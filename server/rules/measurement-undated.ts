// Readings without the day they were taken on.
import type { DeclarationRule } from "./rule.ts";

export const RULE: DeclarationRule = {
  id: "measurement-undated",
  scope: "declaration",
  severity: "advice",
  page: {
    summary: "A measurement does not say on which day it was taken.",
    why: "Of two measurements the later one counts, and one that was taken before the parts were disturbed says nothing any more. Without its day neither can be told.",
    limit: "A date in the head: `measured lash cold on 2027-03-14`. An undated one counts before every dated one.",
    source: "the definition of the language",
    remedy: "Add the day.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured thrust-endplay { reading: 0.12 mm }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured thrust-endplay on 2027-03-14 { reading: 0.12 mm }
}
`,
  },
  check(declaration, report) {
    for (const fact of declaration.measured)
      if (!fact.date && (fact.readings.length > 0 || fact.figures.length > 0)) report({ message: `\`measured ${fact.what.text}\` does not say on which day. Add it: measured ${fact.what.text} on 2027-03-14.`, at: { tree: declaration.tree, span: fact.what.span } });
  },
};
