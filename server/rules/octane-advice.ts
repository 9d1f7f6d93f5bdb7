// Boost or more compression than stock, and nothing said of the octane of the fuel.
import { effective, wordAt } from "../model/effective.ts";
import { boostAdded, compressionRise } from "./record.ts";
import type { BuildRule } from "./rule.ts";

/** A rise of the compression ratio that asks for more octane than the maker meant. Common practice, no source. */
const RISE = 0.5;

export const RULE: BuildRule = {
  id: "octane-advice",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "Compression rose or boost was added, and the octane of the fuel is not stated.",
    why: "What the engine's maker asked for was for the engine as sold. Knock under boost or more compression breaks ring lands and pistons, and cannot be heard over a loud exhaust.",
    limit: "Boost on an engine that its maker built without, or a compression ratio half a unit over the one he states. Whether an octane is enough is settled on the engine: no figure here tells it, so that nothing is said once the octane is stated.",
    source: "common practice, no source",
    remedy: "State the octane and its scale, as the pump shows it. Start with less advance than you think it needs, and listen for knock.",
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
  fuel: petrol
  fit holmrook-60
  fit spark-plug { heat-range: 8 }
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
    const fuel = effective(build.slots.get("fuel"));
    if (!fuel || effective(build.slots.get("octane"))) return;
    const word = wordAt(build, "fuel");
    if (word !== "petrol" && word !== "E10") return;
    const boost = boostAdded(build);
    const rise = compressionRise(build, sheet);
    const rose = rise !== undefined && rise.to - rise.from >= RISE;
    if (!boost && !rose) return;
    const why = boost ? "Boost was added to this engine" : `Compression went up from ${rise?.from.toFixed(1)} to ${rise?.to.toFixed(1)}`;
    report({ message: `${why}, and the octane of its fuel is not stated. State it with its scale, such as \`octane: 98 RON\`, and settle knock on the engine.`, at: fuel.location, path: "octane" });
  },
};
