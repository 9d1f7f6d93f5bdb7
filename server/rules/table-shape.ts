// A table whose row is longer than its header. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "table-shape",
  scope: "text",
  severity: "error",
  page: {
    summary: "A table's row has more cells than its header.",
    why: "A reading without a column belongs to no valve, cylinder or speed.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Add the column's head, or take the cell out.",
    bad: `
build wren-hill-2 {
  measured lash cold on 2027-03-14 {
    | valve (mm) |    1 |    2 |
    | intake     | 0.20 | 0.21 | 0.20 |
  }
}
`,
    good: `
build wren-hill-2 {
  measured lash cold on 2027-03-14 {
    | valve (mm) |    1 |    2 |    3 |
    | intake     | 0.20 | 0.21 | 0.20 |
  }
}
`,
  },
};
