// The sentences about figures that cannot be read, each with what to write instead. Knows wording; finds nothing wrong itself.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Figure, Part, Span, Text } from "../../grammar/tree.ts";
import type { Trouble } from "./expression.ts";
import { kindOf, unitFits, unitList, usualKind, withArticle } from "./kinds.ts";
import type { KindId } from "./kinds.ts";
import type { QuantityProblem, Suggestion } from "./quantity.ts";
import { nearestUnits } from "./spelling.ts";
import { UNITS } from "./units.ts";
import { beside, textOf } from "./written.ts";
import { capital } from "./spoken.ts";

/** "A torque is written like 25 N·m." */
function likeThis(kinds: readonly KindId[]): string {
  const kind = kindOf(kinds[0] as KindId);
  return `${capital(withArticle(kind.words))} is written like ${kind.example}.`;
}

function wanted(kinds: readonly KindId[]): string {
  return kinds.map((k) => withArticle(kindOf(k).words)).join(" or ");
}

function replaceWith(span: Span, texts: readonly string[]): Suggestion[] {
  return texts.map((text) => ({ title: `Write ${text}`, span, text }));
}

export function unitMissing(part: Part, kinds: readonly KindId[], units: readonly UnitId[]): QuantityProblem {
  const read = textOf(part);
  const at = { start: part.span.end, end: part.span.end };
  const offered = units.slice(0, 3).map((u) => spellingOfUnit(u));
  return {
    code: "unit-missing",
    span: part.span,
    message: `${read} has no unit. ${likeThis(kinds)}`,
    suggestions: offered.map((unit) => ({ title: `Write ${beside(read, unit)}`, span: at, text: beside("", unit) })),
  };
}

export function unknownUnit(spelling: string, span: Span, kinds: readonly KindId[]): QuantityProblem {
  const preferred = kinds.flatMap((k) => kindOf(k).units);
  const near = nearestUnits(spelling, preferred).map((u) => spellingOfUnit(u));
  const list = kinds.map((k) => unitList(k)).filter((t) => t !== "").join(", or ");
  const units = list === "" ? "No unit is wanted here." : `${capital(withArticle(kindOf(kinds[0] as KindId).words))} is written in ${list}.`;
  return {
    code: "unknown-unit",
    span,
    message: `"${spelling}" is no unit known here. ${near.length > 0 ? `Was ${near.join(" or ")} meant?` : units}`,
    suggestions: replaceWith(span, near),
  };
}

/** Units that a hand puts down for another one: the bare "lb" or "kg" of a torque sheet, the "deg" of a thermometer. */
const MEANT: Partial<Record<KindId, Partial<Record<UnitId, readonly UnitId[]>>>> = {
  torque: {
    pound: ["pound-foot", "pound-inch"], "pound-force": ["pound-foot", "pound-inch"], foot: ["pound-foot"], inch: ["pound-inch"],
    kilogram: ["kilogram-force-metre", "kilogram-force-centimetre"], "kilogram-force": ["kilogram-force-metre", "kilogram-force-centimetre"], newton: ["newton-metre"],
  },
  force: { pound: ["pound-force"], kilogram: ["kilogram-force"], "newton-metre": ["newton"], "pound-force-per-inch": ["pound-force"], "newton-per-millimetre": ["newton"] },
  "spring-rate": { newton: ["newton-per-millimetre"], "pound-force": ["pound-force-per-inch"], pound: ["pound-force-per-inch"], kilogram: ["kilogram-force-per-millimetre"] },
  pressure: { pound: ["psi"], "pound-force": ["psi"], kilogram: ["kilogram-force-per-square-centimetre"], "kilogram-force": ["kilogram-force-per-square-centimetre"], inch: ["inch-of-mercury"], millimetre: ["millimetre-of-mercury"] },
  stress: { newton: ["megapascal"], pound: ["psi", "ksi"], "pound-force": ["psi", "ksi"] },
  temperature: { degree: ["degree-celsius", "degree-fahrenheit"] },
  "temperature-difference": { degree: ["degree-celsius", "degree-fahrenheit"] },
  angle: { "degree-celsius": ["degree"], "degree-fahrenheit": ["degree"] },
  volume: { "square-centimetre": ["cubic-centimetre"], inch: ["cubic-inch"], "square-inch": ["cubic-inch"], centimetre: ["cubic-centimetre"] },
  area: { millimetre: ["square-millimetre"], centimetre: ["square-centimetre"], inch: ["square-inch"] },
  capacity: { ounce: ["fluid-ounce"], pound: ["quart", "litre"] },
  mass: { "pound-force": ["pound"], "kilogram-force": ["kilogram"], newton: ["gram", "kilogram"] },
  "volume-flow": { "cubic-centimetre": ["cubic-centimetre-per-minute"], litre: ["litre-per-hour", "litre-per-minute"] },
  "mass-flow": { gram: ["gram-per-second"], pound: ["pound-per-hour", "pound-per-minute"] },
  speed: { metre: ["metre-per-second"], foot: ["foot-per-minute"], kilometre: ["kilometre-per-hour"], mile: ["mile-per-hour"], "revolution-per-minute": ["metre-per-second", "foot-per-minute"] },
  "road-speed": { kilometre: ["kilometre-per-hour"], mile: ["mile-per-hour"], metre: ["metre-per-second"] },
  acceleration: { metre: ["metre-per-second-squared"], "metre-per-second": ["metre-per-second-squared"] },
  rotation: { hertz: ["revolution-per-minute"], turn: ["revolution-per-minute"] },
  density: { kilogram: ["kilogram-per-litre"], gram: ["gram-per-cubic-centimetre"] },
};

/** Units of the kinds that `unit` was probably meant for: the known mix-ups, else the kind's own of the same system. */
export function meantUnits(unit: UnitId, kinds: readonly KindId[]): UnitId[] {
  const known = kinds.flatMap((k) => MEANT[k]?.[unit] ?? []);
  if (known.length > 0) return known;
  const all = kinds.flatMap((k) => kindOf(k).units);
  const { system } = UNITS[unit];
  return [...all].sort((a, b) => Number(UNITS[b].system === system) - Number(UNITS[a].system === system)).slice(0, 3);
}

export function wrongUnit(part: Part, digits: string, unit: UnitId, unitSpan: Span | undefined, kinds: readonly KindId[], isLikely: (unit: UnitId) => boolean): QuantityProblem {
  const [kind] = kinds as readonly [KindId, ...KindId[]];
  const units = meantUnits(unit, kinds).filter(isLikely);
  const spellings = units.map((u) => spellingOfUnit(u));
  const read = `${textOf(part)} is ${withArticle(kindOf(usualKind(unit)).words)}`;
  const instead = spellings[0] === undefined ? kindOf(kind).example : digits === "" ? kindOf(kind).example : beside(digits, spellings[0]);
  return {
    code: "wrong-dimension",
    span: part.span,
    message: `${read}, and ${wanted(kinds)} is wanted here, such as ${instead}.`,
    suggestions: unitSpan ? replaceWith(unitSpan, spellings) : [],
  };
}

export function wrongResult(part: Part, kinds: readonly KindId[]): QuantityProblem {
  return { code: "wrong-dimension", span: part.span, message: `${textOf(part)} does not come to ${wanted(kinds)}. ${likeThis(kinds)}` };
}

export function emptyRange(part: Part, low: Text | undefined, high: Text | undefined): QuantityProblem {
  return {
    code: "empty-range",
    span: part.span,
    message: `${textOf(part)} holds nothing, as its first figure is the larger. Write the smaller one first.`,
    ...(low && high && { suggestions: [{ title: "Swap the two", span: { start: low.span.start, end: high.span.end }, text: `${high.text} .. ${low.text}` }] }),
  };
}

export function openRange(part: Extract<Part, { kind: "range" }>): QuantityProblem {
  const given = part.low ?? part.high;
  const bound = given ? `${part.low ? ">=" : "<="} ${textOf(given)}` : "";
  return {
    code: "hole",
    span: part.span,
    message: given ? `${textOf(part)} is half a range. Write the other figure, or ${bound} if there is none.` : "Both figures of this range are still missing.",
    suggestions: bound === "" ? [] : replaceWith(part.span, [bound]),
  };
}

export function pairDisagrees(first: Part, second: Part, firstAs: string): QuantityProblem {
  return {
    code: "printed-pair-disagrees",
    span: { start: first.span.start, end: second.span.end },
    message: `${textOf(first)} is ${firstAs}, not ${textOf(innerOf(second))}. One of the two was copied wrong: look at the source again.`,
  };
}

function innerOf(part: Part): Part {
  return part.kind === "group" && part.inner.length === 1 && !part.unit ? (part.inner[0] as Part) : part;
}

export function secondFigure(first: Part, second: Part): QuantityProblem {
  return {
    code: "not-a-figure",
    span: second.span,
    message: `${textOf(second)} is a second figure after ${textOf(first)}, and one is wanted here. Write a range with .. between them, or remove one.`,
    suggestions: [{ title: "Make it a range", span: { start: first.span.end, end: second.span.start }, text: " .. " }],
  };
}

export function notAFigure(read: string, span: Span, kinds: readonly KindId[]): QuantityProblem {
  return { code: "not-a-figure", span, message: `${read} is no figure, and ${wanted(kinds)} is wanted here. ${likeThis(kinds)}` };
}

export function notWhole(part: Part): QuantityProblem {
  return { code: "not-a-figure", span: part.span, message: `${textOf(part)} is no whole number, and only whole ones are wanted here, such as 4.` };
}

export function belowAbsoluteZero(part: Part): QuantityProblem {
  return { code: "impossible-expression", span: part.span, message: `${textOf(part)} is colder than anything can be: nothing is below -273.15 °C.` };
}

export function hole(span: Span): QuantityProblem {
  return { code: "hole", span, message: "Not filled in yet." };
}

export function dashedFigure(figure: Figure): QuantityProblem | undefined {
  const { digits, unit } = figure;
  const numbers = digits.text.split("-");
  if (numbers.length !== 2) return { code: "dashed-range", span: digits.span, message: `${textOf(figure)} is a row of numbers joined by dashes, and one figure is wanted here.` };
  // The grammar has reported a pair that can be nothing but a range.
  if (unit !== undefined || digits.text.includes(".")) return undefined;
  return {
    code: "dashed-range",
    span: digits.span,
    message: `${digits.text} reads as an order or a thread, not as a range. Write ${numbers.join(" .. ")}.`,
    suggestions: replaceWith(digits.span, [numbers.join(" .. ")]),
  };
}

export function spacedRange(part: Extract<Part, { kind: "binary" }>): QuantityProblem {
  const range = `${textOf(part.left)} .. ${textOf(part.right)}`;
  return {
    code: "dashed-range",
    span: part.span,
    message: `${textOf(part)} is a subtraction, and comes to less than nothing. If a range is meant, write ${range}.`,
    suggestions: [{ title: `Write ${range}`, span: { start: part.left.span.end, end: part.right.span.start }, text: " .. " }],
  };
}

export function exponent(text: string, span: Span): QuantityProblem {
  const value = Number(text);
  const plain = Number.isFinite(value) && Math.abs(value) < 1e15 ? String(value) : undefined;
  const readable = plain !== undefined && !plain.includes("e") ? plain : undefined;
  return {
    code: "not-a-figure",
    span,
    message: `${text} is not read as a power of ten.${readable === undefined ? " Write the figure out." : ` Write ${readable}.`}`,
    suggestions: readable === undefined ? [] : replaceWith(span, [readable]),
  };
}

/** Words a trouble met while evaluating. */
export function wordTrouble(trouble: Trouble, kinds: readonly KindId[]): QuantityProblem {
  switch (trouble.is) {
    case "unknown-unit":
      return unknownUnit(trouble.spelling, trouble.span, kinds);
    case "dashed":
      return notAFigure(trouble.digits.text, trouble.digits.span, kinds);
    case "ratio":
      return { code: "not-a-figure", span: trouble.part.span, message: `${textOf(trouble.part)} is a ratio, and ${wanted(kinds)} is wanted here. ${likeThis(kinds)}` };
    case "no-figure":
      return notAFigure(textOf(trouble.part), trouble.part.span, kinds);
    case "hole":
      return hole(trouble.span);
    case "mismatch": {
      const verb = trouble.op === "+" ? "added to" : "taken from";
      const [what, from] = trouble.op === "+" ? [trouble.left, trouble.right] : [trouble.right, trouble.left];
      return { code: "wrong-dimension", span: trouble.span, message: `${textOf(what)} cannot be ${verb} ${textOf(from)}: they measure different things. Write both in units of the same sort.` };
    }
    case "mixed":
      return { code: "wrong-dimension", span: trouble.span, message: `${textOf(trouble.left)} and ${textOf(trouble.right)} are on different scales. Write both on the same one.` };
    case "two-units":
      return {
        code: "wrong-dimension",
        span: trouble.unit.span,
        message: `${textOf(trouble.inner)} has its unit already, so ${trouble.unit.text} after the bracket is one too many. Remove it.`,
        suggestions: [{ title: `Remove ${trouble.unit.text}`, span: trouble.unit.span, text: "" }],
      };
    case "offset":
      return { code: "impossible-expression", span: trouble.span, message: `Temperatures in ${trouble.unit} cannot be reckoned with, as their zero is no true zero. Write the result.` };
    case "zero-division":
      return { code: "impossible-expression", span: trouble.span, message: "This divides by zero. Write the figure that is meant." };
    case "too-large":
      return { code: "impossible-expression", span: trouble.span, message: "This figure is too large to be of anything. Write the one that is meant." };
  }
}

/** True when the word is a unit of some sort that a figure of these kinds could carry. */
export function isUnitFor(unit: UnitId | undefined, kinds: readonly KindId[]): unit is UnitId {
  return unit !== undefined && kinds.some((k) => unitFits(k, unit));
}
