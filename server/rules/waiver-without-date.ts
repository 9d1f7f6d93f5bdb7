// A waiver without a date of something that breaks engines. Found when waivers are laid over the findings; this file gives it its page.
import type { WaiverRule } from "./rule.ts";

export const RULE: WaiverRule = {
  id: "waiver-without-date",
  scope: "waiver",
  severity: "error",
  page: {
    summary: "A waiver of a finding that breaks engines has no date.",
    why: "A tight valve or a solid spring that was looked away from once must be looked at again. Without a date the waiver silences nothing.",
    limit: "Which findings break engines is said on each one's page.",
    source: "the definition of the language",
    remedy: "Add until and the day on which it is to be looked at again.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  lash { intake: 0.16 mm cold }
  waive lash-tight because "maker confirmed by letter"
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  lash { intake: 0.16 mm cold }
  waive lash-tight because "maker confirmed by letter" until 2099-01-01
}
`,
  },
};
