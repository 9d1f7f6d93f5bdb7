// Boost or much more compression than stock on plugs that nobody chose for it.
import { effective, fitted } from "../model/effective.ts";
import { boostAdded, compressionRise } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { spanOfFit } from "./placed.ts";

/** A rise of the compression ratio from which plugs are looked at again. Common practice, no source. */
const RISE = 1;

export const RULE: BuildRule = {
  id: "plug-heat-advice",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "Boost was added or compression went up by a whole unit, and the plugs are those of the stock engine.",
    why: "A plug that runs too hot lights the charge before the spark does, which looks like knock and melts pistons.",
    limit: "Boost on an engine that its maker built without, or a compression ratio one unit over the one he states, and no spark plug fitted in this build. Which heat range is right no figure here can tell.",
    source: "common practice, no source",
    remedy: "Ask the maker of the plugs or of the blower for the heat range, and fit them as `fit spark-plug { heat-range: … }`. Makers number in opposite directions: a higher figure is colder with one and hotter with the next.",
    cautions: ["boost"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
  stated-compression: 9.6:1
}

part blower holmrook-60 for dunlin-20 {
  source: "fitting instructions, sheet 1"
}

build birkrigg-1 on dunlin-20 {
  fuel: petrol; octane: 98 RON
  fit holmrook-60
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
  stated-compression: 9.6:1
}

part blower holmrook-60 for dunlin-20 {
  source: "fitting instructions, sheet 1"
}

build birkrigg-1 on dunlin-20 {
  fuel: petrol; octane: 98 RON
  fit holmrook-60
  fit spark-plug { heat-range: 8 }
}
`,
  },
  check({ build, sheet, report }) {
    if (fitted(build, "spark-plug").length > 0 || effective(build.slots.get("spark-plug.heat-range")) !== undefined) return;
    const boost = boostAdded(build);
    const rise = compressionRise(build, sheet);
    const rose = rise !== undefined && rise.to - rise.from >= RISE;
    if (!boost && !rose) return;
    const { tree } = build.subject;
    const piston = fitted(build, "piston")[0] ?? fitted(build, "head")[0] ?? fitted(build, "gasket")[0];
    const span = (piston && spanOfFit(piston.fit)) ?? build.subject.name?.span ?? build.subject.wordSpan;
    const why = boost ? "Boost was added to this engine" : `Compression went up from ${rise?.from.toFixed(1)} to ${rise?.to.toFixed(1)}`;
    report({ message: `${why}, and no spark plugs were chosen for it. Ask which heat range it wants and fit them as \`fit spark-plug { heat-range: … }\`.`, at: boost ?? { tree, span }, path: "spark-plug.heat-range" });
  },
};
