// A fingerprint of a tune that this tool cannot have written as it stands.
import { SCHEME, type TuneState, tunesOf } from "../sheet/tune.ts";
import type { BuildRule } from "./rule.ts";
import { FITS, recordFix, tuneAt } from "./tune-record.ts";
import { textAt } from "./wording.ts";

const ENGINE = `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  bore: 84.00 mm
}
`;

export const RULE: BuildRule = {
  id: "fingerprint-doubtful",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A tune's fingerprint is not one that this tool wrote: made up, changed by hand, or made by a later version.",
    why: "Nothing can be held against it, so nobody would be told when the engine changes under the tune.",
    limit: "The value of `made-for` must be the fingerprint of the figures under `based-on`, or of the build as it stands where none are written, made by a scheme that is known here.",
    source: "the definition of the language; SHA-256 of FIPS 180-4",
    remedy: "Where the tune is known to be made for the engine as it stands, let the fix write the fingerprint. Otherwise take `made-for` out.",
    bad: `${ENGINE}
build wren-hill-2 on dunlin-20 {
  tune "tunes/wren-2a.bin" { date: 2027-04-05; made-for: #3f9c21d07a4e }
}
`,
    good: `${ENGINE}
build wren-hill-2 on dunlin-20 {
  tune "tunes/wren-2a.bin" { date: 2027-04-05 }
}
`,
  },
  check({ build, sheet, data, report }) {
    for (const look of tunesOf(sheet, data)) {
      if (look.state.is !== "doubtful") continue;
      const at = tuneAt(build, look, "made-for");
      const fix = recordFix(build, sheet, look, FITS);
      report({ message: `${wordsOf(look.state, textAt(at))} If the tune is known to fit, let the fix write its fingerprint; otherwise take it out.`, at, fixes: fix ? [fix] : [], path: "tune" });
    }
  },
};

function wordsOf(state: TuneState & { readonly is: "doubtful" }, print: string): string {
  switch (state.why) {
    case "bare": return `\`${print}\` is not the fingerprint of this build as it stands, and no \`based-on\` lines say what it was made for: it was made up, or something has changed since.`;
    case "edited": return `\`${print}\` does not belong to the \`based-on\` lines under it: one or the other was changed by hand.`;
    case "scheme": return state.scheme === undefined ? `\`${print}\` stands with \`based-on\` lines that do not say by which scheme it was made.` : `\`${print}\` was made by scheme ${state.scheme}, and this version knows none after ${SCHEME}: a newer one is needed to read it.`;
  }
}
