// A printed pair whose two figures differ. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "printed-pair-disagrees",
  scope: "text",
  severity: "error",
  page: {
    summary: "A figure printed in two units does not say the same in both.",
    why: "One of the two was copied wrong, and the wrong one looks just as good.",
    limit: "The two may differ by the rounding of their digits: half a unit in the last place of each.",
    source: "factors from NIST SP 811",
    remedy: "Look at the source again and correct the wrong one.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  valve-gear {
    intake { lash: .008 in (0.25 mm) cold }
  }
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  valve-gear {
    intake { lash: .008 in (0.20 mm) cold }
  }
}
`,
  },
};
