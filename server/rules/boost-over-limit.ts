// Boost wanted, allowed by the tune, or seen, above what the maker of a part allows.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import type { QuantityValue } from "../model/value.ts";
import { type UnitId, spellingOfUnit } from "../../grammar/vocabulary.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { dateOf, figureOf, pullsOf, recordQuantity } from "../sheet/pull.ts";
import { amount } from "./amount.ts";
import { recordWords, recordsOf } from "./record.ts";
import { lengthWords, passedIn, recordingWords, timeWords } from "./recorded.ts";
import type { BuildRule } from "./rule.ts";
import { called, giver, readingText, textAt, written } from "./wording.ts";
import { capital } from "../quantity/spoken.ts";

export const RULE: BuildRule = {
  id: "boost-over-limit",
  scope: "build",
  on: ["build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "Boost is more than a part's or the engine's maker allows: as wanted, as the tune allows it, or as it was seen.",
    why: "Head gaskets, ring lands and rods let go above the pressure they were made for, and all at once.",
    limit: "The `limits { boost: … }` of a part, a card or the engine, where it is an error; of this build or the shop, where it is a warning. A figure in absolute has the barometer of the place taken off. In a recording what counts lasts 0.3 s or its `dwell`. Without a limit nothing is judged.",
    source: "the maker's own figure",
    remedy: "Lower the boost: a larger pulley, a softer spring, a cut in the tune. No figure computed here raises a maker's limit.",
    cautions: ["boost"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part blower holmrook-60 "Holmrook 0.60 L" for dunlin-20 {
  source: "fitting instructions, sheet 1"
  max-speed: 14000 rpm
  limits { boost: 0.45 bar gauge }
}

build birkrigg-1 on dunlin-20 {
  octane: 98 RON
  fit holmrook-60
  fit spark-plug { heat-range: 8 }
  boost { target: 0.60 bar gauge }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part blower holmrook-60 "Holmrook 0.60 L" for dunlin-20 {
  source: "fitting instructions, sheet 1"
  max-speed: 14000 rpm
  limits { boost: 0.45 bar gauge }
}

build birkrigg-1 on dunlin-20 {
  octane: 98 RON
  fit holmrook-60
  fit spark-plug { heat-range: 8 }
  boost { target: 0.40 bar gauge }
}
`,
  },
  check({ build, sheet, report, unchecked }) {
    const limit = boostLimit(build);
    if (!limit) return;
    for (const { words, at, boost, unit } of recorded(build))
      report({ message: `${words}, more than the ${limit.words}. Lower the boost.`, at, path: "boost.target", ...amount("more", boost, "pressure", unit), ...(limit.owned ? {} : { severity: "warning" as const }), related: [{ message: "The limit stands here.", at: limit.at }] });
    const barometer = sheet.byId.get("air.pressure")?.interval?.nominal;
    const gauge = (value: QuantityValue): number | undefined => {
      const reference = value.qualifiers["pressure-reference"];
      if (reference === "unstated") return undefined;
      return reference === "absolute" ? (barometer === undefined ? undefined : value.quantity.interval.nominal - barometer) : value.quantity.interval.nominal;
    };
    const allowed = gauge(limit.value);
    if (allowed === undefined) {
      if (limit.value.qualifiers["pressure-reference"] === "absolute") unchecked("boost against its limit", [{ path: "air.altitude", words: "height above sea level" }]);
      return;
    }
    for (const seen of boostsOf(build)) {
      const boost = gauge(seen.value);
      if (boost === undefined || compareWithLimit(boost, allowed) <= 0) continue;
      report({
        message: `${seen.words}, more than the ${limit.words}. Lower the boost.`, at: seen.at, path: "boost.target", ...amount("more", boost, "pressure", seen.value.quantity.unit), ...(limit.owned ? {} : { severity: "warning" as const }),
        related: [{ message: "The limit stands here.", at: limit.at }],
      });
    }
  },
};

export interface BoostLimit {
  readonly value: QuantityValue;
  readonly words: string;
  readonly owned: boolean;
  readonly at: Location;
}

export function boostLimit(build: EffectiveBuild): BoostLimit | undefined {
  const given = effective(build.slots.get("limits.boost"));
  if (given?.fact.value.is === "quantity") {
    const own = given.origin.sort === "build";
    return { value: given.fact.value, words: `${written(given)} that ${giver(given)} ${own ? "sets itself" : "allows"}`, owned: !own, at: given.location };
  }
  const fact = build.shop?.figures.find((f) => f.path === "limits.boost");
  if (!build.shop || fact?.value.is !== "quantity") return undefined;
  const at = { tree: build.shop.tree, span: fact.span };
  return { value: fact.value, words: `${textAt(at)} that ${called(build.shop)} sets`, owned: false, at };
}

interface Boost {
  readonly words: string;
  readonly value: QuantityValue;
  readonly at: Location;
}

/** Boost as it is wanted, as each tune cuts it, as each run saw it, and the most of each pull. */
function boostsOf(build: EffectiveBuild): readonly Boost[] {
  const { tree } = build.subject;
  const found: Boost[] = [];
  const target = effective(build.slots.get("boost.target"));
  if (target?.fact.value.is === "quantity") found.push({ words: `${written(target)} of boost is wanted`, value: target.fact.value, at: target.location });
  for (const [word, key, says] of [["tune", "boost-limit", "lets boost rise to"], ["run", "max-boost", "saw"]] as const)
    for (const record of recordsOf(build, word)) {
      const fact = figureOf(record, key);
      const value = recordQuantity(record, key);
      if (!fact || !value) continue;
      const at = { tree, span: fact.span };
      const words = word === "tune" ? `the tune${dateOf(record) === undefined ? "" : ` of ${dateOf(record)}`}` : recordWords(record);
      found.push({ words: `${capital(words)} ${says} ${textAt(at)}`, value, at });
    }
  for (const pull of pullsOf(build)) {
    const cells = pull.rows.flatMap((row) => row.cells.get("boost") ?? []);
    const most = cells.reduce((a, b) => ((b.quantity?.interval.nominal ?? 0) > (a?.quantity?.interval.nominal ?? -Infinity) ? b : a), cells[0]);
    if (!most?.quantity) continue;
    const at = { tree, span: most.span };
    found.push({ words: `${capital(pull.words)} saw ${readingText(at, most.quantity)} of boost`, value: { is: "quantity", quantity: most.quantity, qualifiers: { "pressure-reference": "gauge" }, clauses: [] }, at });
  }
  return found;
}

/** Boost over the limit in recordings, which were held against it as they were read. */
function recorded(build: EffectiveBuild): readonly { readonly words: string; readonly at: Location; readonly boost: number; readonly unit: UnitId }[] {
  return passedIn(build, "boost", ["boost", "manifold"]).map(({ recording, stretches: { worst, count }, column, at }) => {
    const unit = column?.unit ?? "kilopascal";
    const value = formatAgainst(worst.worst, worst.limit, "pressure", unit).value;
    return { words: `${capital(recordingWords(recording))} saw ${value} ${spellingOfUnit(unit)} of boost at ${timeWords(worst.at)}${worst.rpm === undefined ? "" : ` and ${Math.round(worst.rpm)} rpm`} for ${lengthWords(worst.duration)}${count > 1 ? `, and ${count} times in all` : ""}`, at, boost: worst.worst, unit };
  });
}
