// How a lash is brought about: which blades to reach for, which shim to fit, how long a pushrod must be, and in which order to go round. Knows no
// physics of its own.
import * as setting from "../../engineering/lash-setting.ts";
import { type EffectiveBuild, asked, chosen, effective, wordAt } from "../../model/effective.ts";
import { type FigureValue, intervalOf } from "../../model/value.ts";
import { exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, either, figure, figureBy, formula, optional, slotHas, table, thing, value } from "../formula.ts";
import { firingOrder } from "../places.ts";
import { hydraulics } from "./breathing.ts";
import { cutOff, isCutSince } from "./cuts.ts";

const solid = (build: EffectiveBuild): boolean => hydraulics(build) === undefined;

function shopValue(build: EffectiveBuild, path: string): FigureValue | undefined {
  return build.shop?.figures.find((f) => f.path === `shop.${path}`)?.value;
}

/** The figures of a list, in the base of their kind. */
function listed(value: FigureValue | undefined): readonly number[] {
  if (value?.is === "stages") return value.stages.map((s) => s.quantity.interval.nominal);
  return value?.is === "quantity" ? [value.quantity.interval.nominal] : [];
}

const INCHES = new Set(["inch", "thousandth-inch", "thou"]);

/** The blades to measure a side's lash with: those marked in the units that the lash is asked for in, else the others. */
function blades(build: EffectiveBuild, each: string): { readonly sizes: readonly number[]; readonly words: string } | undefined {
  const lash = effective(build.slots.get(`valve-gear.${each}.lash`))?.fact.value;
  const inInches = lash?.is === "quantity" && lash.quantity.unit !== undefined && INCHES.has(lash.quantity.unit);
  for (const set of inInches ? ["inch", "metric"] : ["metric", "inch"]) {
    const sizes = listed(shopValue(build, `blades.${set}`));
    if (sizes.length > 0) return { sizes, words: set };
  }
  return undefined;
}

function bladeSet(): Input<readonly number[]> {
  return thing([], (build, each) => {
    const found = blades(build, each);
    return found && { what: found.sizes, words: `${found.words} blades of the shop`, text: `${found.sizes.length} blades` };
  });
}

interface LashBand {
  readonly low: number;
  readonly high: number;
}

/** What a lash may be: the range that the last source asks for, else the width of its digits. */
function band(): Input<LashBand> {
  return thing(["valve-gear.{each}.lash"], (build, each) => {
    const slot = build.slots.get(`valve-gear.${each}.lash`);
    const given = asked(slot) ?? chosen(slot);
    const lash = given?.fact.value;
    if (!given || lash?.is !== "quantity") return undefined;
    const { interval, halfDigit, shape } = lash.quantity;
    const by = shape === "single" ? halfDigit : 0;
    return { what: { low: interval.low - by, high: interval.high + by }, words: "lash allowed", text: "as asked for", provided: [given] };
  });
}

/** Most shims that a kit can have: a step of nothing would make it endless. */
const LARGEST_KIT = 1000;

/** Thicknesses that can be had: the fitted kind's own list, else the shop's drawer, listed or from thinnest to thickest in steps. */
export function shimKit(build: EffectiveBuild): readonly number[] {
  const own = listed(effective(build.slots.get("shim.sizes"))?.fact.value);
  if (own.length > 0) return own;
  const sizes = listed(shopValue(build, "shims.sizes"));
  if (sizes.length > 0) return sizes;
  const range = shopValue(build, "shims.range");
  const ends = range && intervalOf(range);
  const step = listed(shopValue(build, "shims.step"))[0];
  if (!ends || step === undefined || !(step > 0) || !(ends.high > ends.low) || (ends.high - ends.low) / step > LARGEST_KIT) return [];
  return Array.from({ length: Math.floor((ends.high - ends.low) / step + 1e-6) + 1 }, (_, i) => ends.low + i * step);
}

function kit(): Input<readonly number[]> {
  return thing([], (build) => {
    const sizes = shimKit(build);
    return sizes.length > 0 ? { what: sizes, words: "shims that can be had", text: `${sizes.length} sizes` } : undefined;
  });
}

/** Lash lost, as the feeler reads it, for a shim thicker by one: the shim and the feeler may sit on different ends of a ratio. */
function perShim(): Input<number> {
  return table("ratio", ["valve-gear.lash-at"], (build, each) => {
    const lashAt = wordAt(build, "valve-gear.lash-at") === "cam" ? "cam" : "valve";
    const place = ["follower.shim-place", `follower.${each}.shim-place`].map((p) => wordAt(build, p)).find((p) => p !== undefined);
    const ratioText = intervalOfRatio(build, each);
    if (ratioText === undefined) return undefined;
    const shimAt = place === "over" ? "cam" : "valve";
    const given = [effective(build.slots.get("valve-gear.lash-at")), effective(build.slots.get("valve-gear.actuation"))].filter((p) => p !== undefined);
    return {
      interval: exactly(setting.lashPerShim({ lashAt, shimAt, rockerRatio: ratioText })), words: "lash lost for a shim thicker by one", source: "lever geometry", provided: given,
      ...(place === undefined && ratioText !== 1 && { assumption: "the shim is taken as lying on the valve's tip" }),
    };
  });
}

function intervalOfRatio(build: EffectiveBuild, each: string): number | undefined {
  for (const path of [`valve-gear.${each}.rocker-ratio`, "valve-gear.rocker-ratio"]) {
    const found = effective(build.slots.get(path))?.fact.value;
    if (found?.is === "quantity") return found.quantity.interval.nominal;
  }
  const actuation = wordAt(build, "valve-gear.actuation");
  return actuation === "bucket" || actuation === "direct" ? 1 : undefined;
}

/** The lash that was measured, in the state that it is asked for in; a cold reading says nothing of a hot figure. */
function statesAgree(build: EffectiveBuild, each: string): boolean {
  const target = effective(build.slots.get(`valve-gear.${each}.lash`))?.fact.value;
  const wanted = target?.is === "quantity" ? target.qualifiers["thermal"] : undefined;
  return build.measured.every((m) => m.what.text !== "lash" || wanted === undefined || !m.qualifiers.some((q) => (q.text === "cold" || q.text === "hot") && q.text !== wanted));
}

/** True where somebody goes round the valves: lash to set, or a nut to turn past zero. */
const setByHand = (build: EffectiveBuild): boolean => solid(build) ? slotHas(build, "valve-gear.intake.lash") : wordAt(build, "valve-gear.adjuster") === "stud-nut" || wordAt(build, "valve-gear.adjuster") === "screw";

const shimmed = (build: EffectiveBuild, each: string): boolean =>
  solid(build) && statesAgree(build, each) && (slotHas(build, `valve-gear.${each}.shim`) || build.measured.some((m) => m.what.text === "shim"));

const target = (): Input<number> => either(figureBy("chosen", "valve-gear.{each}.lash"), figureBy("asked", "valve-gear.{each}.lash"));

const SHIM_INPUTS = {
  shim: figure("valve-gear.{each}.shim", "valve-gear.shim"), lash: figure("valve-gear.{each}.lash"), target: target(), perShim: perShim(), kit: kit(), band: band(),
} as const;

/** Feelers and shims are told apart to a hundredth; a billionth of a metre is what binary fractions leave behind. */
const NOISE = 1e-9;

/** A shim that leaves the lash right stays. Else the nearest in the kit that leaves no valve tight. */
function shimFor({ shim, lash, target: wanted, perShim: per, kit: sizes, band: allowed }: { readonly shim: number; readonly lash: number; readonly target: number; readonly perShim: number; readonly kit: readonly number[]; readonly band: LashBand }): setting.ShimChoice | undefined {
  if (lash >= allowed.low - NOISE && lash <= allowed.high + NOISE) return { shim, lash, inRange: true };
  const loose = sizes.filter((size) => setting.lashWithShim({ shim: size, fittedShim: shim, measuredLash: lash, perShim: per }) >= allowed.low - NOISE);
  return setting.chooseShim({ kit: loose, fittedShim: shim, measuredLash: lash, targetLash: wanted, lowLash: allowed.low, highLash: allowed.high, perShim: per });
}

export const LASH_SETTING: readonly Formula[] = [
  ...(["go", "no-go"] as const).map((which) => formula({
    id: `lash.{each}.blades.${which}`, each: "side", section: "lash", label: which === "go" ? "{each} lash, blade that must go in" : "{each} lash, blade that must not", kind: "length", unit: "millimetre",
    words: which === "go" ? "The thickest blade of the shop's that is not above the lash to set." : "The thinnest blade of the shop's that is above the lash to set.",
    expression: which === "go" ? "the thickest of {blades} up to {target}" : "the thinnest of {blades} above {target}", source: "by comparison",
    inputs: { target: target(), blades: bladeSet() },
    applies: (build: EffectiveBuild, each: string) => solid(build) && slotHas(build, `valve-gear.${each}.lash`) && blades(build, each) !== undefined,
    compute: ({ target: lash, blades: set }) => setting.bladePair({ blades: set, targetLash: lash, lowLash: lash, highLash: lash })?.[which === "go" ? "go" : "noGo"],
  })),
  formula({
    id: "shim.{each}.wanted", each: "side", section: "lash", label: "{each} shim that would be right", kind: "length", unit: "millimetre", quiet: true,
    words: "The thickness that would give the lash exactly, whether there is such a shim or not.",
    expression: "{shim} + ({lash} − {target}) / {perShim}", source: "lever geometry; old + measured − target where nothing multiplies",
    inputs: { shim: SHIM_INPUTS.shim, lash: SHIM_INPUTS.lash, target: SHIM_INPUTS.target, perShim: SHIM_INPUTS.perShim },
    applies: shimmed,
    compute: ({ shim, lash, target: wanted, perShim: per }) => setting.wantedShim({ fittedShim: shim, measuredLash: lash, targetLash: wanted, perShim: per }),
  }),
  formula({
    id: "shim.{each}.new", each: "side", section: "lash", label: "{each} shim to fit", kind: "length", unit: "millimetre",
    words: "The shim that is in, where it leaves the lash right; else the nearest that can be had and leaves no valve tight.",
    expression: "the nearest of {kit} to {shim} + ({lash} − {target}) / {perShim} that keeps the lash in {band}, never tight", source: "lever geometry",
    inputs: SHIM_INPUTS,
    applies: (build, each) => shimmed(build, each) && shimKit(build).length > 0,
    compute: (figures) => shimFor(figures)?.shim,
  }),
  formula({
    id: "shim.{each}.new-lash", each: "side", section: "lash", label: "{each} lash that this shim gives", kind: "length", unit: "millimetre",
    words: "What the feeler will read once that shim is in.",
    expression: "{lash} − (the shim to fit of {kit}, {band}, {target} − {shim}) · {perShim}", source: "lever geometry",
    inputs: SHIM_INPUTS,
    applies: (build, each) => shimmed(build, each) && shimKit(build).length > 0,
    compute: (figures) => shimFor(figures)?.lash,
  }),
  formula({
    id: "pushrod-length.{each}", each: "side", section: "lash", label: "{each} pushrod length for the preload asked for", kind: "length", unit: "millimetre",
    words: "The pushrod that brings the lifter's preload back to what is asked for, where no adjuster can.",
    expression: "{length} + {wanted} − {preload}", source: "sum of the parts, for rockers on a fixed shaft or pedestal",
    inputs: {
      length: figure("valve-gear.{each}.pushrod-length", "valve-gear.pushrod-length"), wanted: figureBy("asked", "valve-gear.{each}.preload", "valve-gear.preload"),
      preload: either(value("lifter.{each}.preload-after-changes"), value("lifter.{each}.preload")),
    },
    applies: (build, each) => !solid(build) && wordAt(build, "valve-gear.adjuster") !== "stud-nut" && wordAt(build, "valve-gear.adjuster") !== "screw" && slotHas(build, `valve-gear.${each}.pushrod-length`),
    compute: ({ length, wanted, preload }) => setting.pushrodLength({ fittedLength: length, preload, wantedPreload: wanted }),
  }),
  formula({
    id: "pushrod-length.{each}.same-angle", each: "side", section: "lash", label: "{each} pushrod length that keeps the rockers' old angle", kind: "length", unit: "millimetre",
    words: "A head that comes down brings the rockers down with it, and the old pushrod stands too long by as much. A nut or screw takes up the room, but not the angle that the rocker wipes the stem at.",
    expression: "{length} − {head} − {block}", source: "sum of the parts: stem, rocker and stand come down with the head, the lifter does not",
    inputs: {
      length: figure("valve-gear.{each}.pushrod-length", "valve-gear.pushrod-length"),
      head: optional(cutOff("combustion.skim", "valve-gear.{each}.pushrod-length", "valve-gear.pushrod-length")), block: optional(cutOff("combustion.block-skim", "valve-gear.{each}.pushrod-length", "valve-gear.pushrod-length")),
    },
    applies: oldPushrods,
    compute: ({ length, head, block }) => length - (head ?? 0) - (block ?? 0),
  }),
  formula({
    id: "pushrod.steel-mass", section: "valve-gear", label: "Pushrod, weight of its tube in steel", kind: "mass", unit: "gram", quiet: true,
    words: "What a plain steel tube of this size weighs: a pushrod's own weight is never far from it.",
    expression: "π/4 · ({diameter}² − ({diameter} − 2 · {wall})²) · {length} · 7850 kg/m³", source: "density of steel", estimate: "tips and tapers left out",
    inputs: { length: figure("valve-gear.intake.pushrod-length", "valve-gear.exhaust.pushrod-length", "valve-gear.pushrod-length"), diameter: figure("pushrod.diameter"), wall: figure("pushrod.wall") },
    applies: (build) => slotHas(build, "pushrod.wall"),
    compute: ({ length, diameter, wall }) => (diameter > 2 * wall && wall > 0 ? (Math.PI / 4) * (diameter ** 2 - (diameter - 2 * wall) ** 2) * length * 7850 : undefined),
  }),
  formula({
    id: "valve-setting.{each}.crank", each: "cylinder", section: "lash", label: "Set the valves of cylinder {each} at, turned on from cylinder 1's firing top dead centre", kind: "angle", unit: "degree", quiet: true,
    words: "How far to turn the crank on from where cylinder 1 fires until this cylinder stands at its own firing top dead centre, both its valves shut.",
    expression: "its place in {order} · 720 / cylinders", source: "even firing of a four-stroke", estimate: "even firing",
    inputs: { order: order() },
    compute: ({ order: round }, each) => stopOf(round, each)?.crankDeg,
  }),
  formula({
    id: "valve-setting.{each}.rocking", each: "cylinder", section: "lash", label: "Set the valves of cylinder {each} while the valves of this cylinder rock", kind: "count",
    words: "The companion: its exhaust valve is just shutting and its intake just opening while this cylinder's are both shut. No degree wheel is needed.",
    expression: "half of {order} further on", source: "even firing of a four-stroke",
    inputs: { order: order() },
    applies: (build) => firingOrder(build).length % 2 === 0 && setByHand(build),
    compute: ({ order: round }, each) => stopOf(round, each)?.rocking,
  }),
];

/** True where head or block was cut and the engine's own pushrods are still what is known of. */
function oldPushrods(build: EffectiveBuild, each: string): boolean {
  const paths = ["valve-gear.{each}.pushrod-length", "valve-gear.pushrod-length"] as const;
  const given = paths.map((path) => effective(build.slots.get(path.replace("{each}", each)))).find((p) => p !== undefined);
  return given?.origin.sort === "engine" && ["combustion.skim", "combustion.block-skim"].some((cut) => isCutSince(cut, ...paths)(build, each));
}

function order(): Input<readonly number[]> {
  return thing(["firing-order"], (build) => {
    const round = firingOrder(build);
    const given = effective(build.slots.get("firing-order"));
    return given && round.length > 0 ? { what: round, words: "firing order", text: round.join("-"), provided: [given] } : undefined;
  });
}

/** The stop for a cylinder, counted from where cylinder 1 fires. */
function stopOf(round: readonly number[], each: string): setting.SettingStop | undefined {
  const from = round.indexOf(1);
  return setting.settingOrder([...round.slice(from), ...round.slice(0, from)]).find((s) => String(s.set) === each);
}
