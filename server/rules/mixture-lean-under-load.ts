// Rows of a pull, or stretches of a recording, that are leaner under load than they may be.
import { fuelNames, fuels } from "../engineering/fuel.ts";
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, effective, wordAt } from "../model/effective.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { formatAgainst } from "../quantity/display.ts";
import { type Pull, figureOf, pullsOf, recordQuantity } from "../sheet/pull.ts";
import { amount, amountOf } from "./amount.ts";
import { moreWords, passedIn, recordedIn, recordingWords, stretchWords } from "./recorded.ts";
import { recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { giver, readingText, textAt, written } from "./wording.ts";
import { capital } from "../quantity/spoken.ts";

/** Rows below this share of the pull's greatest torque are not under load yet. Common practice, no source. */
const LOAD_GATE = 0.7;
/** How much leaner than the mixture aimed at a row may be. Common practice, no source. */
const OFF_TARGET = 0.05;

export const RULE: BuildRule = {
  id: "mixture-lean-under-load",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "A pull or a recording was leaner under load than it may be.",
    why: "A lean mixture under load burns hot and slow: valves, plugs and pistons go in seconds, and nothing is heard before.",
    limit: "The `limits { mixture: … }` of a part, a card or the engine, where it is an error, or of this build or the shop; else 5 per cent leaner than the mixture aimed at by the tune or the fuel system; else the mixture that leaves no fuel over, lambda 1.00. Only rows with at least seven tenths of the pull's greatest torque count; a row of a table stands for longer than the 0.3 s that a glitch of the sensor takes. In a recording what counts lasts 0.3 s or its `dwell`, at the throttle of its `load-gate` (80 per cent; of the barometer where only manifold pressure was recorded), seen `sensor-delay` later (200 ms), 0.3 s after the throttle opened at the soonest; shifts, overrun and the last 100 rpm before the tune's rev limit are left out. Mixtures are compared as lambda; afr of another fuel than petrol needs to say which scale it is on.",
    source: "stoichiometric ratios of public fuel tables; the gates, the times, the 5 per cent and lambda 1.00 are common practice, no source",
    remedy: "Lift off and do not repeat the pull. Look for a fuel pressure that falls, an injector at its end, an air leak or a tired pump; then mend the tune.",
    cautions: ["dynamometer", "fuel"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

build birkrigg-1 on dunlin-20 {
  fuel: petrol
  
  tune { date: 2027-05-01; jets: "main 118" }
  pull on 2027-04-17 {
    at: wheels; correction: none
    |  rpm | torque (N·m) |  afr |
    | 3000 |          140 | 12.4 |
    | 4500 |          155 | 14.9 |
    | 6000 |          150 | 12.2 |
  }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

build birkrigg-1 on dunlin-20 {
  fuel: petrol
  
  tune { date: 2027-05-01; jets: "main 118" }
  pull on 2027-04-17 {
    at: wheels; correction: none
    |  rpm | torque (N·m) |  afr |
    | 3000 |          140 | 12.4 |
    | 4500 |          155 | 12.6 |
    | 6000 |          150 | 12.2 |
  }
}
`,
  },
  check({ build, report, unchecked }) {
    for (const { recording, stretches, column, at } of passedIn(build, "mixture", ["lambda", "afr"])) {
      const limit = mixtureLimit(build, { figure: (key) => figureOf(recording.record, key) });
      const { worst } = stretches;
      const scale = column?.key === "afr" ? recording.question.stoichiometric : undefined;
      const shown = formatAgainst(worst.worst * (scale ?? 1), worst.limit * (scale ?? 1), "mixture", scale === undefined ? "lambda" : "air-fuel-ratio");
      report({
        message: `${capital(recordingWords(recording))} was lean under load: ${shown.value} ${scale === undefined ? "lambda" : `afr (lambda ${worst.worst.toFixed(2)})`} ${stretchWords(worst)}, leaner than ${limit.words}${moreWords(stretches)}. Do not repeat it before the cause is found.`,
        at, path: "mixture.lambda", ...amount("more", worst.worst * (scale ?? 1), "mixture", scale === undefined ? "lambda" : "air-fuel-ratio"), ...(limit.owned && { severity: "error" as const }), ...(limit.at && { related: [{ message: "The limit stands here.", at: limit.at }] }),
      });
    }
    for (const { recording, summary } of recordedIn(build)) {
      const why = summary.unjudged.find((u) => u.what === "mixture")?.why;
      if (why === "no-scale") unchecked(`the mixture of ${recordingWords(recording)}`, [wordAt(build, "fuel") === undefined ? { path: "fuel", words: "what it burns" } : { path: "log.afr-scale", words: "which scale the afr figures are on" }]);
      else if (why === "no-load") unchecked(`the mixture of ${recordingWords(recording)}`, [{ path: "log.throttle", words: "the column of throttle" }]);
      else if (why === "no-time") unchecked(`the mixture of ${recordingWords(recording)}`, [{ path: "log.time", words: "the column of time" }]);
    }
    for (const pull of pullsOf(build)) {
      const limit = mixtureLimit(build, pull);
      const most = Math.max(...pull.rows.map((row) => row.torque ?? 0));
      const read = pull.rows.filter((row) => row.torque !== undefined && row.torque >= LOAD_GATE * most).flatMap((row) => {
        const cell = row.cells.get("lambda") ?? row.cells.get("afr");
        const lambda = cell && lambdaOf(cell.quantity, scaleOf(pull) ?? wordAt(build, "fuel-system.afr-scale"), fuelOf(build, pull));
        return cell ? [{ row, cell, lambda }] : [];
      });
      if (read.some((r) => r.lambda === undefined)) {
        unchecked(`the mixture of ${pull.words}`, [wordAt(build, "fuel") === undefined && !pull.figure("fuel") ? { path: "fuel", words: "what it burns" } : { path: "fuel-system.afr-scale", words: "which scale the afr figures are on" }]);
        continue;
      }
      const lean = read.flatMap(({ row, cell, lambda }) => (lambda !== undefined && lambda.least > limit.lambda * (1 + NOISE) ? [{ rpm: row.rpm, cell, lambda: lambda.nominal }] : []));
      const worst = lean.reduce((a, b) => (a && a.lambda >= b.lambda ? a : b), lean[0]);
      if (!worst?.cell.quantity) continue;
      const at = { tree: build.subject.tree, span: worst.cell.span };
      const inLambda = worst.cell.quantity.unit === "lambda" ? "" : ` (lambda ${worst.lambda.toFixed(2)})`;
      report({
        message: `Under load at ${Math.round(worst.rpm)} rpm the mixture was ${readingText(at, worst.cell.quantity)}${inLambda}, leaner than ${limit.words}${lean.length > 1 ? `; ${lean.length - 1} more ${lean.length === 2 ? "row is" : "rows are"} too` : ""}. Do not repeat the pull before the cause is found.`,
        at, path: "mixture.lambda", ...amountOf("more", worst.cell.quantity), ...(limit.owned && { severity: "error" as const }), related: [...(limit.at ? [{ message: "The limit stands here.", at: limit.at }] : []), ...lean.filter((l) => l !== worst).map((l) => ({ message: `Lean too, at ${Math.round(l.rpm)} rpm.`, at: { tree: build.subject.tree, span: l.cell.span } }))],
      });
    }
  },
};

/** What division leaves behind. */
const NOISE = 1e-9;

/** A record whose own figures say what it burnt and which scale its gauge is on. */
export type Figured = Pick<Pull, "figure">;

export interface MixtureLimit {
  readonly lambda: number;
  readonly words: string;
  readonly owned: boolean;
  readonly at?: Location;
}

/** The leanest that a pull or a recording may be, in the order in which limits are looked for. */
export function mixtureLimit(build: EffectiveBuild, pull: Figured): MixtureLimit {
  const scale = wordAt(build, "fuel-system.afr-scale");
  const fuel = fuelOf(build, pull);
  const given = effective(build.slots.get("limits.mixture"));
  const own = given?.fact.value.is === "quantity" ? lambdaOf(given.fact.value.quantity, scale, fuel) : undefined;
  if (given && own) return { lambda: own.greatest, words: `the ${written(given)} that ${giver(given)} ${given.origin.sort === "build" ? "sets itself" : "allows"}`, owned: given.origin.sort !== "build", at: given.location };
  const shop = build.shop?.figures.find((f) => f.path === "limits.mixture");
  const shops = shop?.value.is === "quantity" ? lambdaOf(shop.value.quantity, scale, fuel) : undefined;
  if (build.shop && shop && shops) {
    const at = { tree: build.shop.tree, span: shop.span };
    return { lambda: shops.greatest, words: `the ${textAt(at)} that this shop sets`, owned: false, at };
  }
  const tune = recordsOf(build, "tune").findLast((record) => figureOf(record, "full-load-mixture") !== undefined);
  const tuned = tune && recordQuantity(tune, "full-load-mixture");
  const tuneScale = tune && figureOf(tune, "afr-scale")?.value;
  const aimed = effective(build.slots.get("fuel-system.full-load-mixture"));
  const target = tuned ? lambdaOf(tuned.quantity, tuneScale?.is === "word" ? tuneScale.word : scale, fuel) : aimed?.fact.value.is === "quantity" ? lambdaOf(aimed.fact.value.quantity, scale, fuel) : undefined;
  const at = tune ? { tree: build.subject.tree, span: figureOf(tune, "full-load-mixture")?.span ?? tune.span } : aimed?.location;
  // A target beyond what burns clean does not raise the limit.
  if (target && at && target.greatest * (1 + OFF_TARGET) <= 1) return { lambda: target.greatest * (1 + OFF_TARGET), words: `the ${textAt(at)} aimed at and ${OFF_TARGET * 100} % over it, which is common practice`, owned: false, at };
  return { lambda: 1, words: "lambda 1.00, where no fuel is left over to cool with: the limit of common practice", owned: false };
}

/** The air-fuel ratio of lambda 1 on the scale that a record's gauge is on; nothing where nobody says which that is. */
export function exactMixture(build: EffectiveBuild, pull: Figured): number | undefined {
  return exactOn(scaleOf(pull) ?? wordAt(build, "fuel-system.afr-scale"), fuelOf(build, pull));
}

function exactOn(scale: string | undefined, fuel: string | undefined): number | undefined {
  const name = fuelNames.find((one) => one === fuel);
  return scale === "petrol" ? fuels.petrol.stoichiometric : name && (scale === "fuel" || name === "petrol") ? fuels[name].stoichiometric : undefined;
}

/** Lambda of a mixture as written: the leanest and richest that its digits allow, and its own. Nothing where nobody says which scale an afr is on. */
function lambdaOf(quantity: Quantity | undefined, scale: string | undefined, fuel: string | undefined): { readonly least: number; readonly nominal: number; readonly greatest: number } | undefined {
  if (!quantity) return undefined;
  const exact = quantity.unit === "lambda" ? 1 : exactOn(scale, fuel);
  if (exact === undefined) return undefined;
  const { low, nominal, high } = quantity.interval;
  return { least: (low - quantity.halfDigit) / exact, nominal: nominal / exact, greatest: high / exact };
}

function scaleOf(pull: Figured): string | undefined {
  const value = pull.figure("afr-scale")?.value;
  return value?.is === "word" ? value.word : undefined;
}

/** The fuel of the pull by the name that the fuel tables have; racing petrol is petrol. */
function fuelOf(build: EffectiveBuild, pull: Figured): string | undefined {
  const value = pull.figure("fuel")?.value;
  const word = value?.is === "word" ? value.word : wordAt(build, "fuel");
  return word === "e85" ? "E85" : word === "race" ? "petrol" : word;
}
