// A waiver of something that has become worse than what was accepted. Found when waivers are laid over the findings; this file gives it its page.
import type { WaiverRule } from "./rule.ts";

export const RULE: WaiverRule = {
  id: "waiver-outgrown",
  scope: "waiver",
  severity: "warning",
  failsCheck: true,
  page: {
    summary: "What a waiver accepted has become worse since.",
    why: "A waiver is granted for what somebody looked at. A lash of 0.17 mm that was let pass says nothing about 0.15 mm.",
    limit: "The figure after `at`, rounded as it is written, against the figure that the finding itself names, in the direction that is worse for it.",
    source: "the definition of the language",
    remedy: "Put the matter right, or look at it again and write the figure that is accepted now.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  lash { intake: 0.15 mm cold }
  waive lash-tight at 0.17 mm because "maker confirmed by letter" until 2099-01-01
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  lash { intake: 0.17 mm cold }
  waive lash-tight at 0.17 mm because "maker confirmed by letter" until 2099-01-01
}
`,
  },
};
