// Fasteners: stress area, strength, and the clamp load that a torque really gives, as the band it is. Knows no physics of its own.
import * as bolt from "../../engineering/fastener.ts";
import { type EffectiveBuild, type Provided, effective, threadAt, wordAt } from "../../model/effective.ts";
import { finalTorque as tightening } from "../../model/tightening.ts";
import type { QuantityValue, Thread } from "../../model/value.ts";
import { exactly } from "../../quantity/interval.ts";
import { givenBy, wrenchFor } from "../wrench.ts";
import { type Formula, type Input, type LookedUp, asking, either, figure, formula, optional, orAssume, slotHas, stage, table, thread, value, where } from "../formula.ts";

const ISO_16047 = "ISO 16047 long form: thread friction, under-head friction and pitch each counted";
const STRENGTH = "ISO 898-1 property classes and SAE J429 grades, both stepping with diameter";

const asThread = (one: Thread): bolt.Thread => ({ form: one.system === "metric" ? "metric" : "unified", diameter: one.diameter, pitch: one.pitch });

/** True for a bolt that is turned through an angle after its last torque, by whoever said last how it is tightened. */
export function isTurnedByAngle(build: EffectiveBuild, name: string): boolean {
  return tightening(build, name)?.turned === true;
}

export const FASTENERS: readonly Formula[] = [
  formula({
    id: "{each}.stress-area", each: "fastener", section: "fasteners", label: "{each}: stress area", kind: "area", unit: "square-millimetre", quiet: true,
    words: "Section of the thread that carries the tension.",
    expression: "π/4 · (d − 0.9382 · P)² for metric {thread}, π/4 · (D − 0.9743/n)² for inch threads", source: "ISO 898-1; ASME B1.1",
    inputs: { thread: thread("fastener.{each}.thread") },
    compute: ({ thread: one }) => bolt.stressArea(asThread(one)),
  }),
  formula({
    id: "{each}.loaded-area", each: "fastener", section: "fasteners", label: "{each}: area that carries the load", kind: "area", unit: "square-millimetre", quiet: true,
    words: "The stress area of the thread, or the shank where that is thinner.",
    expression: "the smaller of {area} and π/4 · {shank}²", source: "by comparison",
    inputs: { area: value("{each}.stress-area"), shank: optional(figure("fastener.{each}.shank-diameter")) },
    compute: ({ area, shank }) => bolt.loadedArea({ stressArea: area, shankDiameter: shank }),
  }),
  ...(["proof", "yield", "tensile"] as const).map((which) =>
    formula({
      id: `{each}.${which}-strength`, each: "fastener", section: "fasteners", label: `{each}: ${which === "tensile" ? "strength" : `${which} strength`}`, kind: "stress", unit: "megapascal", quiet: true,
      words: { proof: "The stress it is tested to hold without growing longer.", yield: "The stress at which it begins to stay longer than it was.", tensile: "The least stress at which it may break." }[which],
      expression: "{strength}", source: STRENGTH,
      inputs: { strength: which === "tensile" ? strength(which) : statedOrOf(which) },
      compute: ({ strength: stress }) => stress,
    })),
  formula({
    id: "{each}.proof-load", each: "fastener", section: "fasteners", label: "{each}: proof load", kind: "force", unit: "newton",
    words: "The load it is tested to hold without growing longer.",
    expression: "{area} · {proof}", source: STRENGTH,
    inputs: { area: value("{each}.loaded-area"), proof: statedOrOf("proof") },
    compute: ({ area, proof }) => bolt.loadAtStress({ area, stress: proof }),
  }),
  formula({
    id: "{each}.torque", each: "fastener", section: "fasteners", label: "{each}: final torque", kind: "torque", unit: "newton-metre",
    words: "The last torque of its tightening; an angle may follow.",
    expression: "{torque}", source: "as written",
    inputs: { torque: finalTorque() },
    compute: ({ torque }) => torque,
  }),
  formula({
    id: "{each}.torque-other-units", each: "fastener", section: "fasteners", label: "{each}: final torque, inch units", kind: "torque", unit: "pound-foot", quiet: true,
    words: "The same torque for a wrench marked in the other system.",
    expression: "{torque}", source: "NIST SP 811",
    inputs: { torque: value("{each}.torque") },
    compute: ({ torque }) => torque,
  }),
  formula({
    id: "{each}.wrench-deviation", each: "fastener", section: "fasteners", label: "{each}: what the wrench may be off", kind: "torque", unit: "newton-metre", quiet: true,
    words: "How far what is pulled may lie from what is set, either way: by the certificate of the shop's wrench for this torque, else by the standard.",
    expression: "{torque} · {error}", source: "ISO 6789; a certificate beats it",
    inputs: { torque: value("{each}.torque"), error: wrenchErrorOf() },
    compute: ({ torque, error }) => torque * error,
  }),
  formula({
    id: "{each}.wrench-setting", each: "fastener", section: "fasteners", label: "{each}: set the wrench with its adapter to", kind: "torque", unit: "newton-metre",
    words: "What to set so that the bolt gets its final torque through an adapter that carries the wrench past its square: less when it lengthens the lever, the same at a right angle. Pull at the middle of the grip.",
    expression: "{torque} · {length} / ({length} + {extension} · cos {angle})", source: "lever statics",
    inputs: { torque: value("{each}.torque"), length: either(figure("fastener.{each}.wrench-length"), shopLength()), extension: figure("fastener.{each}.extension"), angle: orAssume(figure("fastener.{each}.extension-angle"), 0, "the adapter is taken as in line with the wrench: extension-angle is not stated") },
    applies: (build, each) => slotHas(build, `fastener.${each}.extension`),
    compute: ({ torque, length, extension, angle }) => bolt.wrenchSetting({ torque, wrenchLength: length, adapterLength: extension, adapterAngleDeg: angle }),
  }),
  formula({
    id: "{each}.torque-with-prevailing", each: "fastener", section: "fasteners", label: "{each}: torque where the source leaves the locking thread out", kind: "torque", unit: "newton-metre", quiet: true,
    words: "What to set if the source's torque does not count what the locking thread itself resists with. The clamp load above takes it as counted.",
    expression: "{torque} + {prevailing}", source: "common practice, no source",
    inputs: { torque: value("{each}.torque"), prevailing: figure("fastener.{each}.prevailing-torque") },
    applies: (build, each) => slotHas(build, `fastener.${each}.prevailing-torque`),
    compute: ({ torque, prevailing }) => bolt.torqueWithPrevailing({ torque, prevailingTorque: prevailing }),
  }),
  formula({
    id: "{each}.turn", each: "fastener", section: "fasteners", label: "{each}: turn after the last torque", kind: "angle", unit: "degree",
    words: "All angles after the last torque together. Where they are asked for singly they are turned singly, in order.",
    expression: "{turn}", source: "as written",
    inputs: { turn: stage("turn", "fastener.{each}.tighten") },
    applies: isTurnedByAngle,
    compute: ({ turn }) => turn,
  }),
  formula({
    id: "{each}.torque-load", each: "fastener", section: "fasteners", label: "{each}: load from the last torque alone", kind: "force", unit: "newton", quiet: true,
    words: "What the torque pulls the bolt to. Most of a torque is friction, so the load is a band and never one number.",
    expression: "({torque} · {wrench} − {prevailing}) / (P/2π + 0.577 · d₂ · {friction} + {bearing}/2 · {friction}), {thread}", source: ISO_16047,
    inputs: {
      torque: value("{each}.torque"), wrench: wrenchScale(), prevailing: optional(figure("fastener.{each}.prevailing-torque")), friction: friction(), thread: thread("fastener.{each}.thread"),
      bearing: bearing(),
    },
    compute: ({ torque, wrench, prevailing, friction: mu, thread: one, bearing: face }) =>
      bolt.loadFromTorque({
        torque: torque * wrench, prevailingTorque: prevailing ?? 0, pitch: one.pitch, pitchDiameter: bolt.pitchDiameter(one), bearingDiameter: face, threadFriction: mu, headFriction: mu,
      }),
  }),
  formula({
    id: "{each}.clamp-load", each: "fastener", section: "fasteners", label: "{each}: clamp load", kind: "force", unit: "newton",
    words: "What holds the joint together once it is tightened: a band, because friction and wrench are bands. Some seven eighths of a torque goes into friction; a torque wrench and a table's friction leave the greatest load of a set about twice the least, and no care at the wrench narrows that. Clean threads, the asked lubricant, or a measured stretch do. Turned through an angle, never more than the bolt yields at.",
    expression: "{snug}, and after an angle the smaller of {snug} + {turned} and {limit}", source: `${ISO_16047}; elastic stiffness of bolt and joint for an angle`,
    inputs: { snug: value("{each}.torque-load"), turned: where(value("{each}.angle-load"), isTurnedByAngle), limit: where(value("{each}.yield-load"), isTurnedByAngle) },
    compute: ({ snug, turned, limit }) => (turned === undefined || limit === undefined ? snug : bolt.angleLoad({ snugLoad: snug, elasticLoad: turned, yieldLoad: limit }).load),
  }),
  formula({
    id: "{each}.clamp-load-short-form", each: "fastener", section: "fasteners", label: "{each}: clamp load by the short form", kind: "force", unit: "newton",
    words: "A cross-check with one number for all friction. It does not replace the band.",
    expression: "{torque} / ({factor} · d), {thread}", source: "a machine-design textbook, table of nut factors",
    estimate: "one nut factor hides thread and head",
    inputs: { torque: value("{each}.torque"), factor: nutFactor(), thread: thread("fastener.{each}.thread") },
    applies: (build, each) => NUT_FACTOR_ROWS[conditionOf(torqueFact(build, each)?.lubrication)] !== undefined,
    compute: ({ torque, factor, thread: one }) => bolt.loadShortForm({ nutFactor: factor, torque, diameter: one.diameter }),
  }),
  formula({
    id: "{each}.proof-fraction", each: "fastener", section: "fasteners", label: "{each}: share of proof load", kind: "fraction",
    words: "Clamp load against proof load.",
    expression: "{load} / {proof}", source: STRENGTH,
    inputs: { load: value("{each}.clamp-load"), proof: value("{each}.proof-load") },
    compute: ({ load, proof }) => (proof > 0 ? load / proof : undefined),
  }),
  formula({
    id: "{each}.yield-load", each: "fastener", section: "fasteners", label: "{each}: load at which it yields while turned", kind: "force", unit: "newton", quiet: true,
    words: "Tension at which pull and twist together bring the bolt to its yield strength.",
    expression: "{yield} · A / √(1 + 3 · (1.5 · d₂/d₀ · (P/(π · d₂) + 1.155 · {friction}))²), {thread}", source: "VDI 2230, whole section yielding in torsion",
    inputs: { yield: statedOrOf("yield"), friction: friction(), thread: thread("fastener.{each}.thread"), shank: optional(figure("fastener.{each}.shank-diameter")) },
    compute: ({ yield: limit, friction: mu, thread: one, shank }) =>
      bolt.assemblyPreload({ thread: asThread(one), shankDiameter: shank, yieldStrength: limit, threadFriction: mu, share: 1 }),
  }),
  formula({
    id: "{each}.yield-fraction", each: "fastener", section: "fasteners", label: "{each}: share of yield while turned", kind: "fraction",
    words: "Pull and twist together against the yield strength, at the moment the wrench is still pulling.",
    expression: "{load} / {yield}", source: "VDI 2230 combined stress",
    inputs: { load: value("{each}.clamp-load"), yield: value("{each}.yield-load") },
    compute: ({ load, yield: limit }) => (limit > 0 ? load / limit : undefined),
  }),
  formula({
    id: "{each}.stiffness", each: "fastener", section: "fasteners", label: "{each}: stiffness of the bolt", kind: "spring-rate", unit: "newton-per-millimetre", quiet: true,
    words: "How hard the clamped length of the bolt resists stretching.",
    expression: "{modulus} / (shank {shank} over {area} + thread ({grip} − {shank}) over {threaded})", source: "a machine-design textbook, bolt stiffness: sections in series", estimate: "head and engaged thread left out",
    inputs: { modulus: boltModulus(), area: shankArea(), threaded: value("{each}.stress-area"), shank: optional(figure("fastener.{each}.shank-length")), grip: figure("fastener.{each}.grip") },
    applies: (build, each) => isTurnedByAngle(build, each) || slotHas(build, `fastener.${each}.grip`),
    compute: ({ modulus, area, threaded, shank, grip }) => {
      if (shank === undefined) return bolt.boltStiffness({ sections: [{ length: grip, area }], modulus });
      return bolt.boltStiffness({ sections: [{ length: Math.min(shank, grip), area }, { length: Math.max(0, grip - shank), area: threaded }], modulus });
    },
  }),
  formula({
    id: "{each}.angle-load", each: "fastener", section: "fasteners", label: "{each}: load that the angle adds while elastic", kind: "force", unit: "newton",
    words: "What the turn after the last torque adds as long as nothing yields. A bolt tightened to yield never reaches it.",
    expression: "{turn}/360 · P / (1/{bolt} + 1/{joint}), {thread}", source: "a machine-design textbook, turn of the nut", estimate: "stiffnesses of bolt and joint stand in for the real ones",
    inputs: { turn: value("{each}.turn"), bolt: value("{each}.stiffness"), joint: value("{each}.joint-stiffness"), thread: thread("fastener.{each}.thread") },
    applies: isTurnedByAngle,
    compute: ({ turn, bolt: kb, joint, thread: one }) => bolt.elasticAngleLoad({ turnDeg: turn, pitch: one.pitch, boltStiffness: kb, memberStiffness: joint }),
  }),
  formula({
    id: "{each}.joint-stiffness", each: "fastener", section: "fasteners", label: "{each}: stiffness of what is clamped", kind: "spring-rate", unit: "newton-per-millimetre", quiet: true,
    words: "How hard the clamped parts resist being squeezed: as stated against the bolt's own, else a pressure cone in their material.",
    expression: "{ratio} · {bolt}, or the cone of a washer face 1.5 · d in {modulus} over {grip}, {thread}", source: "a machine-design textbook, stiffness of members", estimate: "a 30° pressure cone in one material; a gasket is far softer",
    inputs: {
      ratio: optional(figure("fastener.{each}.joint-stiffness")), bolt: value("{each}.stiffness"), modulus: jointModulus(), grip: figure("fastener.{each}.grip"), thread: thread("fastener.{each}.thread"),
    },
    applies: isTurnedByAngle,
    compute: ({ ratio, bolt: kb, modulus, grip, thread: one }) => (ratio === undefined ? bolt.memberStiffness({ modulus, diameter: one.diameter, grip }) : ratio * kb),
  }),
  formula({
    id: "{each}.stretch", each: "fastener", section: "fasteners", label: "{each}: stretch at its clamp load", kind: "length", unit: "millimetre",
    words: "How much longer the clamped length gets, as long as nothing yields.",
    expression: "{load} / {stiffness}", source: "a machine-design textbook, bolt stiffness", estimate: "one section over the whole grip; head and engaged thread left out",
    inputs: { load: value("{each}.clamp-load"), stiffness: value("{each}.stiffness") },
    applies: (build, each) => slotHas(build, `fastener.${each}.grip`),
    compute: ({ load, stiffness }) => bolt.boltStretch({ load, stiffness }),
  }),
  formula({
    id: "{each}.stretch-load", each: "fastener", section: "fasteners", label: "{each}: load at the stretch asked for", kind: "force", unit: "newton",
    words: "What a bolt pulls when it has grown by so much, as long as nothing yields: the reading that knows no friction.",
    expression: "{stretch} · {stiffness}", source: "a machine-design textbook, bolt stiffness", estimate: "head and engaged thread left out, which give a little as well",
    inputs: { stretch: figure("fastener.{each}.stretch"), stiffness: value("{each}.stiffness") },
    applies: (build, each) => slotHas(build, `fastener.${each}.stretch`) && slotHas(build, `fastener.${each}.grip`),
    compute: ({ stretch, stiffness }) => bolt.loadFromStretch({ stretch, stiffness }),
  }),
  formula({
    id: "{each}.strip-load", each: "fastener", section: "fasteners", label: "{each}: load at which the tapped thread strips", kind: "force", unit: "newton",
    words: "What the thread in the tapped part carries over the length that is in hold. It should be more than the bolt itself: a stripped hole costs more than a broken bolt.",
    expression: "0.8 · 0.875 · π · d · {engagement} · {strength}, {thread}", source: "shear area of the basic profile, of which thread tolerances leave about 0.8", estimate: "every thread in hold is taken to carry its share",
    inputs: { engagement: figure("fastener.{each}.engagement"), strength: figure("fastener.{each}.tapped-strength"), thread: thread("fastener.{each}.thread") },
    applies: (build, each) => slotHas(build, `fastener.${each}.tapped-strength`),
    compute: ({ engagement, strength: shear, thread: one }) => bolt.stripLoad({ shearArea: bolt.internalShearArea({ diameter: one.diameter, engagement }), shearStrength: shear }),
  }),
  formula({
    id: "{each}.engagement.required", each: "fastener", section: "fasteners", label: "{each}: thread to be in hold", kind: "length", unit: "millimetre",
    words: "Least length of thread in hold, by what it is cut in.",
    expression: "{diameters} · d, {thread}", source: "common practice, no source: 1 diameter in steel, 1.25 in cast iron, 2 in light alloys",
    inputs: { diameters: engagementDiameters(), thread: thread("fastener.{each}.thread") },
    applies: (build, each) => slotHas(build, `fastener.${each}.tapped-into`),
    compute: ({ diameters, thread: one }) => diameters * one.diameter,
  }),
];

function finalTorque(): Input<number> {
  return stage("last-torque", "fastener.{each}.torque", "fastener.{each}.tighten");
}

/** The fact that holds the final torque, and what is on the thread when it is read. */
function torqueFact(build: EffectiveBuild, name: string): { readonly provided: Provided; readonly torque: QuantityValue; readonly lubrication: string | undefined } | undefined {
  const final = tightening(build, name);
  return final && { provided: final.provided, torque: final.value, lubrication: final.value.qualifiers["lubrication"] };
}

/** The words of the schema that mean one of the friction bands by another name. */
const CONDITIONS: Readonly<Record<string, bolt.FrictionCondition>> = { greased: "oiled", plated: "zinc-plated", sealed: "unstated" };

function conditionOf(lubrication: string | undefined): bolt.FrictionCondition {
  const word = lubrication ?? "unstated";
  return CONDITIONS[word] ?? (bolt.frictionConditions.includes(word as bolt.FrictionCondition) ? (word as bolt.FrictionCondition) : "unstated");
}

/** Friction in thread and under the head, by what the torque says is on them. */
function friction(): Input<number> {
  return table("number", ["fastener.{each}.torque"], (build, each): LookedUp | undefined => {
    const fact = torqueFact(build, each);
    if (!fact) return undefined;
    const condition = conditionOf(fact.lubrication);
    const band = bolt.frictionBands[condition];
    return {
      interval: { low: band.low, nominal: band.nominal, high: band.high }, words: `friction, ${fact.lubrication ?? "lubrication not stated"}`, source: band.source, provided: [fact.provided],
      ...(condition === "unstated" && { assumption: `what is on the thread of ${each} is not stated: friction taken from 0.08 to 0.24` }),
    };
  });
}

function nutFactor(): Input<number> {
  return table("number", ["fastener.{each}.torque"], (build, each) => {
    const fact = torqueFact(build, each);
    const row = fact && NUT_FACTOR_ROWS[conditionOf(fact.lubrication)];
    const factor = row === undefined ? undefined : bolt.nutFactors[row];
    return fact && row !== undefined && factor !== undefined ? { interval: exactly(factor), words: `nut factor, ${row}`, source: "a machine-design textbook, table of nut factors", provided: [fact.provided] } : undefined;
  });
}

/** Rows of the textbook's table that stand for a condition; it has none for moly, wax or thread-locker. */
const NUT_FACTOR_ROWS: Readonly<Partial<Record<bolt.FrictionCondition, string>>> = {
  dry: "nonplated, black finish", oiled: "lubricated", "zinc-plated": "zinc-plated", "anti-seize": "with a proprietary anti-seize", unstated: "zinc-plated",
};

/** What the wrench may really pull for one that is set: 1 give or take its error. */
function wrenchScale(): Input<number> {
  return table("number", ["fastener.{each}.torque"], (build, each) => {
    const found = errorOf(build, each);
    return found && { ...found, interval: { low: 1 - found.error, nominal: 1, high: 1 + found.error } };
  });
}

function wrenchErrorOf(): Input<number> {
  return table("fraction", ["fastener.{each}.torque"], (build, each) => {
    const found = errorOf(build, each);
    return found && { ...found, interval: exactly(found.error) };
  });
}

/** The error of the shop's wrench for this torque, else what the standard allows one. */
function errorOf(build: EffectiveBuild, each: string): (Omit<LookedUp, "interval"> & { readonly error: number }) | undefined {
  const torque = torqueFact(build, each)?.torque.quantity.interval.nominal;
  if (torque === undefined) return undefined;
  const wrench = wrenchFor(build, torque);
  if (wrench) {
    const source = wrench.certified ? "the shop's own wrench, as its accuracy is stated" : "ISO 6789 for the shop's own wrench";
    return { error: wrench.error, words: `wrench \`${wrench.name}\` on ${each}, ±${percent(wrench.error)}`, source, provided: givenBy(wrench, wrench.certified ? "accuracy" : "range") };
  }
  // Small settings are pulled with small wrenches, which the standard allows more.
  const error = bolt.wrenchError({ maximumTorque: torque });
  return error >= 0 ? { error, words: `wrench of ${each}, ±${percent(error)}`, source: "ISO 6789 setting tools; a certificate beats it" } : undefined;
}

function percent(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`;
}

/** Length of the shop's wrench that one would reach for. */
function shopLength(): Input<number> {
  return table("length", ["fastener.{each}.wrench-length"], (build, each): LookedUp | undefined => {
    const torque = torqueFact(build, each)?.torque.quantity.interval.nominal;
    const wrench = torque === undefined ? undefined : wrenchFor(build, torque);
    return wrench?.length === undefined ? undefined : { interval: exactly(wrench.length), words: `length of wrench \`${wrench.name}\``, source: "the shop's own wrench", provided: givenBy(wrench, "length") };
  });
}

/** Mean diameter on which the head rubs: from its face and hole as stated, else of a standard hexagon head. */
function bearing(): Input<number> {
  return table("length", ["fastener.{each}.thread"], bearingOf);
}

function bearingOf(build: EffectiveBuild, each: string): LookedUp | undefined {
  const one = threadAt(build, `fastener.${each}.thread`);
  if (!one) return undefined;
  const [face, hole] = ["head-diameter", "hole-diameter"].map((key) => {
    const provided = effective(build.slots.get(`fastener.${each}.${key}`));
    const v = provided?.fact.value;
    return provided && v?.is === "quantity" ? { provided, nominal: v.quantity.interval.nominal } : undefined;
  });
  if (face && hole) {
    const mean = bolt.meanBearingDiameter({ faceDiameter: face.nominal, holeDiameter: hole.nominal });
    if (mean > 0) return { interval: exactly(mean), words: "mean diameter under the head", source: "half of face and hole together, as stated", provided: [face.provided, hole.provided] };
  }
  const usual = bolt.usualBearingDiameter({ diameter: one.diameter });
  if (!(usual.diameter > 0)) return undefined;
  return {
    interval: exactly(usual.diameter), words: "mean diameter under the head", source: usual.estimate ? "1.25 diameters, a washer face of a machine-design textbook" : "hexagon head of ISO 4014 over a hole of ISO 273",
    assumption: usual.estimate ? `head-diameter and hole-diameter of ${each} are not stated: an ordinary washer face is taken` : `head-diameter and hole-diameter of ${each} are not stated: a standard hexagon head is taken`,
  };
}

/**
 * Torque, N·m, that one newton of clamp load takes on a fastener with this on its thread, at the middle of its friction band; how slippery two
 * lubricants are, one against the other. Nothing where the thread is not known or the word names no lubricant.
 */
export function torquePerNewton(build: EffectiveBuild, each: string, lubrication: string): number | undefined {
  const one = threadAt(build, `fastener.${each}.thread`);
  const face = bearingOf(build, each)?.interval.nominal;
  if (!one || face === undefined || conditionOf(lubrication) === "unstated") return undefined;
  const mu = bolt.frictionBands[conditionOf(lubrication)].nominal;
  const per = bolt.torquePerLoad({ pitch: one.pitch, pitchDiameter: bolt.pitchDiameter(one), bearingDiameter: face, threadFriction: mu, headFriction: mu });
  return per > 0 ? per : undefined;
}

/** Proof or yield strength: as a maker of special bolts states it, else by class or grade, which is what to ask a builder for. */
function statedOrOf(which: "proof" | "yield"): Input<number> {
  const byClass = strength(which);
  return asking(either(figure(`fastener.{each}.${which}-stress`), byClass), byClass);
}

/** Proof or yield strength by class or grade and size. */
function strength(which: "proof" | "yield" | "tensile"): Input<number> {
  return table("stress", ["fastener.{each}.class", "fastener.{each}.thread"], (build, each): LookedUp | undefined => {
    const one = threadAt(build, `fastener.${each}.thread`);
    const provided = effective(build.slots.get(`fastener.${each}.class`)) ?? effective(build.slots.get(`fastener.${each}.grade`));
    const v = provided?.fact.value;
    if (!one || !provided || v?.is !== "class") return undefined;
    const found = strengthOf(v.text, one);
    return found && { interval: exactly(found[which]), words: `${which} strength, ${v.text}`, source: `${found.source}${found.provenance === "from memory" ? ", this row from memory" : ""}`, provided: [provided] };
  });
}

/** The strengths that a class or grade as written gives a thread: "8.8", "class 8.8", "8", "grade 8". */
export function strengthOf(text: string, one: Thread): bolt.BoltStrength | undefined {
  const mark = /^(?:class|grade|sae)?\s*(?:j429\s*)?(?:grade\s*)?(\d+(?:\.\d+)?)$/i.exec(text.trim())?.[1];
  if (mark === undefined) return undefined;
  return mark.includes(".") ? bolt.propertyClassStrength({ propertyClass: mark, diameter: one.diameter }) : bolt.gradeStrength({ grade: mark, diameter: one.diameter });
}

function boltModulus(): Input<number> {
  return orAssume(figure("fastener.{each}.modulus"), bolt.boltSteelModulus, "the bolt is taken as steel, 207 GPa");
}

/** The area that stretches: of the shank where its length or diameter is stated; else somewhere between the thread and a plain shank of full diameter. */
function shankArea(): Input<number> {
  return table("area", ["fastener.{each}.thread"], (build, each): LookedUp | undefined => {
    const one = threadAt(build, `fastener.${each}.thread`);
    if (!one) return undefined;
    const provided = effective(build.slots.get(`fastener.${each}.shank-diameter`));
    const v = provided?.fact.value;
    if (provided && v?.is === "quantity") return { interval: exactly((Math.PI / 4) * v.quantity.interval.nominal ** 2), words: "area of the shank", source: "as stated", provided: [provided] };
    const low = bolt.stressArea(asThread(one));
    const high = (Math.PI / 4) * one.diameter ** 2;
    if (slotHas(build, `fastener.${each}.shank-length`)) return { interval: exactly(high), words: "area of the shank", source: "full diameter of the thread", assumption: `shank-diameter of ${each} is not stated: its shank is taken as full as its thread` };
    return low > 0 ? { interval: { low, nominal: (low + high) / 2, high }, words: "area of the clamped length", source: "between thread and full shank", assumption: `how much of ${each} is plain shank is not stated: somewhere between none and all of the grip` } : undefined;
  });
}

/** Young's modulus of the clamped parts. Steel, grey iron and aluminium alloy as a machine-design textbook tabulates them. */
const MODULI: Readonly<Record<string, number>> = { steel: 207e9, "cast-iron": 100e9, aluminium: 71e9 };

function jointModulus(): Input<number> {
  return table("stress", [], (build, each): LookedUp => {
    const head = each.includes("head") ? wordAt(build, "combustion.head-material") : undefined;
    const known = head === undefined ? undefined : MODULI[head];
    const provided = effective(build.slots.get("combustion.head-material"));
    if (known !== undefined && provided) return { interval: exactly(known), words: `stiffness of ${head}`, source: "a machine-design textbook, table of moduli", provided: [provided] };
    return { interval: { low: 71e9, nominal: 100e9, high: 207e9 }, words: "stiffness of what is clamped", source: "a machine-design textbook, table of moduli", assumption: `what ${each} clamps is not stated: anything from aluminium to steel` };
  });
}

const TAPPED: Readonly<Record<string, bolt.TappedMaterial>> = { steel: "steel", "cast-iron": "cast iron", aluminium: "aluminium", magnesium: "magnesium" };

function engagementDiameters(): Input<number> {
  return table("number", ["fastener.{each}.tapped-into"], (build, each): LookedUp | undefined => {
    const word = wordAt(build, `fastener.${each}.tapped-into`);
    const material = word === undefined ? undefined : TAPPED[word];
    const provided = effective(build.slots.get(`fastener.${each}.tapped-into`));
    return material && provided ? { interval: exactly(bolt.leastEngagementDiameters[material]), words: `diameters in ${word}`, source: "common practice, no source", provided: [provided] } : undefined;
  });
}
