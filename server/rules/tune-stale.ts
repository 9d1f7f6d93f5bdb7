// A tune that was made for other figures than the build now has.
import { tunesOf } from "../sheet/tune.ts";
import type { BuildRule } from "./rule.ts";
import { REDONE, changePlaces, changesWords, recordFix, tuneAt, tuneWords } from "./tune-record.ts";
import { capital } from "../quantity/spoken.ts";

const ENGINE = `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}
`;
const SHAFT = `
part camshaft ridgeway-272 "Ridgeway 272" for dunlin-20 {
  source: "cam card in the box"
  intake { duration: 236 deg crank; measured-at: 1.00 mm at valve }
}
`;

export const RULE: BuildRule = {
  id: "tune-stale",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The tune was made for other figures than the build now has.",
    why: "Fuel and spark were set for one engine. With another shaft, compression, boost or fuel the same setting can be lean or early enough to end it in one pull.",
    limit: "The figures recorded under `based-on`, against the same figures of the build: everything that reaches displacement, compression, valve timing and lift, boost, blower drive and injector flow through the sheet's own formulas, and figures of fuel, altitude, redline, intake, exhaust, carburettor and distributor. Amounts are compared to nine significant figures in base units, so that another spelling of the same figure, a comment, a changed order or a tighter tolerance makes nothing stale. Readings count for nothing here: they tell what was there all along. So does the weather. Where there is no record, a part that asks for a tune and was fitted on a later day than the tune's. Only the last tune is looked at.",
    source: "the usual order of work, common practice, no source",
    remedy: "Tune again, or put back what was changed. Then record what the tune was made for: only somebody who knows that it was redone can say so.",
    cautions: ["dynamometer"],
    bad: `${ENGINE}${SHAFT}
build wren-hill-2 on dunlin-20 {
  interference: no
  fit ridgeway-272 on 2027-05-01
  tune { date: 2027-04-05; jets: "main 118" }
}
`,
    good: `${ENGINE}${SHAFT}
build wren-hill-2 on dunlin-20 {
  interference: no
  fit ridgeway-272 on 2027-03-13
  tune { date: 2027-04-05; jets: "main 118" }
}
`,
  },
  check({ build, sheet, data, report }) {
    for (const look of tunesOf(sheet, data)) {
      if (!look.latest) continue;
      const { state } = look;
      const fix = () => {
        const one = recordFix(build, sheet, look, REDONE);
        return one ? [one] : [];
      };
      if (state.is === "stale") {
        report({
          message: `${capital(tuneWords(look))} was made for other figures: ${changesWords(state.changes)}. Tune again before full load, then record it.`,
          at: tuneAt(build, look, "made-for"), related: changePlaces(state.changes), fixes: fix(), path: "tune",
        });
      } else if (state.is !== "current") {
        const [late] = look.before;
        if (late) report({ message: `${capital(tuneWords(look))} is older than ${late.part.words}, which went in on ${late.date} and changes what fuel and spark the engine wants. Tune again before full load, then write down its day.`, at: tuneAt(build, look), fixes: fix(), path: "tune" });
      }
    }
  },
};
