// A figure ten, a hundred or 25.4 times away from what it should be.
import type { Declaration, FigureFact, RecordFact } from "../model/declaration.ts";
import { impossibleIn } from "../model/possible.ts";
import { formatBand, formatValue, unitFor } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { likelyEndSlips, likelySlips, shiftPoint } from "../quantity/slips.ts";
import { measurementOf } from "../schema/measurements.ts";
import { celsius } from "../schema/spans.ts";
import type { UsualSpan } from "../schema/types.ts";
import type { DeclarationRule, Report } from "./rule.ts";
import { isOutsideUsual, slipFixes, slipsOf } from "./slip.ts";
import { eventSlips } from "./slip-of-events.ts";
import { oversizeSlips } from "./slip-of-oversize.ts";
import { readingSlips } from "./slip-of-reading.ts";
import { type ShareSlip, recordShareSlips, shareSlips } from "./slip-of-share.ts";
import { toolSlips } from "./slip-of-tool.ts";
import { torqueSlips } from "./slip-of-torque.ts";
import { giver, nameOf, readingText, textAt, torqueText, written } from "./wording.ts";

export const RULE: DeclarationRule = {
  id: "decimal-slip",
  scope: "declaration",
  severity: "warning",
  page: {
    summary: "A figure is ten, a hundred or 25.4 times away from what is asked for, or from anything that key ever holds.",
    why: "A misplaced point or an inch taken for a millimetre reads like any other figure, and the machine shop works to it.",
    limit: "The figure that a source asks for, where the build chose another: then it is an error when only the shifted figure fits. Else the span that the key holds on any engine, from a small single to a large V8. A figure inside is never questioned, and one outside only when shifting it would bring it inside. A figure that goes with another of the same engine, as a ring's gap with the bore or a seat load with the open load, is held against it as well, within wide shares; a torque against the proof load of its thread; a valve event against its duration. A measured size, weight or load is held against the figure it is a reading of and against the rest of its set: six times either way is believed. A measured gap or clearance is held against nothing but what can ever be measured there: down to nothing it may be true.",
    source: "the span of each key names its own origin in the language reference; most are common practice, no source",
    remedy: "Take the figure that is offered if the source agrees; or waive it, if the engine really is so.",
    bad: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
  bore: 830.0 mm
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
  bore: 83.00 mm
}
`,
  },
  check(declaration, report) {
    const all = [...declaration.figures, ...declaration.fits.flatMap((f) => [...f.figures, ...(f.inline?.figures ?? [])]), ...declaration.measured.flatMap((m) => m.figures), ...declaration.records.flatMap(figuresOf)];
    const troubled = new Set(declaration.problems.flatMap((p) => (p.path !== undefined && p.code !== "reading-unstated" ? [p.path] : [])));
    const impossible = new Set(impossibleIn(declaration).map((one) => one.span.start));
    for (const fact of all) {
      if (impossible.has(fact.span.start)) continue;
      const found = troubled.has(fact.path) ? undefined : (againstUsual(declaration, fact) ?? ofItsOwnEnds(declaration, fact));
      if (found) report(found);
    }
    for (const { fact, quantity, slips, duration, opens, closes, sum } of eventSlips(declaration)) {
      const [first] = slips;
      const at = { tree: declaration.tree, span: fact.span };
      const say = (f: FigureFact) => textAt({ tree: declaration.tree, span: f.span });
      if (!first || isOutsideUsual(fact)) continue;
      report({
        message: `Opening at ${say(opens)} and closing at ${say(closes)} come to ${formatValue(sum, quantity.kind, quantity.unit ?? "degree")}, and \`duration\` says ${say(duration)}. Was ${first.text} meant for \`${fact.key.key}\`?`,
        at, path: fact.path, fixes: slipFixes(slips, at),
      });
    }
    for (const { fact, quantity, slips, said } of toolSlips(declaration)) {
      const [first] = slips;
      const at = { tree: declaration.tree, span: fact.span };
      if (!first || isOutsideUsual(fact)) continue;
      report({ message: `${readingText(at, quantity)} for \`${fact.key.key}\` ${said}. Was ${first.text} meant?`, at, path: fact.path, fixes: slipFixes(slips, at) });
    }
    for (const measured of declaration.measured) {
      if (measured.qualifiers.some((q) => q.text === "cold"))
        for (const fact of measured.figures) {
          const warm = fact.key.key === "temperature" && fact.value.is === "quantity" ? outside(declaration, "temperature", fact.value.quantity, COLD) : undefined;
          if (warm && fact.key.usual && fact.value.is === "quantity" && fact.value.quantity.interval.low <= fact.key.usual.high) report({ ...warm, message: warm.message.replace("holds on an engine", "is when cold"), path: fact.path });
        }
      const usual = measurementOf(measured.what.text)?.usual;
      if (!usual) continue;
      for (const reading of measured.readings) {
        if (impossible.has(reading.span.start)) continue;
        const found = outside(declaration, measured.what.text, reading.quantity, usual);
        if (found) report({ ...found, path: measured.what.text });
      }
    }
  },
  checkBuild({ build, sheet, report, apart }) {
    apart("torques", () => {
      for (const { fastener, torque, quantity, slips, share } of torqueSlips(build, sheet)) {
        const [first] = slips;
        if (!first) continue;
        report({
          message: `${torqueText(torque)} would load \`${fastener}\` to ${formatPercent(share)} of its proof load. Was ${first.text} meant?`,
          at: torque.at, path: torque.path, fixes: quantity.figures.length > 0 ? slipFixes(slips, torque.at) : [],
        });
      }
    });
    apart("oversizes", () => {
      for (const { provided, path, slips, beside, share } of oversizeSlips(build)) {
        const [first] = slips;
        if (!first) continue;
        report({ message: `${written(provided)} is ${formatPercent(share)} of the ${beside} it is added to. Was ${first.text} meant?`, at: provided.location, path, fixes: slipFixes(slips, provided.location) });
      }
    });
    const ofShare = ({ provided, quantity, path, slips, otherSlips, low, high, beside, of }: ShareSlip) => {
      const [first] = slips;
      if (!first) return;
      const span = formatBand({ low, nominal: high, high }, quantity.kind, quantity.unit ?? unitFor(quantity.kind, "metric", high));
      const [other] = otherSlips;
      report({
        message: `${written(provided)} is far from anything \`${provided.fact.key.key}\` holds beside ${beside}, ${span}. Was ${first.text} meant${other && of ? `, or ${other.text} for the other` : ""}?`,
        at: provided.location, path, fixes: [...slipFixes(slips, provided.location), ...(of ? slipFixes(otherSlips, of.location) : [])],
        related: of ? [{ message: "It is held against this.", at: of.location }] : [],
      });
    };
    for (const slot of build.slots.values()) if (slot.key.usualPer) apart(slot.path, () => shareSlips(build, sheet, slot).forEach(ofShare));
    apart("records", () => recordShareSlips(build, sheet).forEach(ofShare));
    apart("readings", () => {
      for (const { at, quantity, path, place, slips, expected, against } of readingSlips(build, sheet)) {
        const [first] = slips;
        if (!first) continue;
        const wanted = formatValue(expected, quantity.kind, quantity.unit ?? unitFor(quantity.kind, "metric", expected));
        report({
          message: `${readingText(at, quantity)}${place ? ` at ${place}` : ""} is far from ${against === "figure" ? `the ${wanted} it is a reading of` : `the other readings, about ${wanted}`}. Was ${first.text} meant?`,
          at, path, fixes: slipFixes(slips, at),
        });
      }
    });
    for (const { asked, chosen, slips, is, path, at, quantity } of slipsOf(build)) {
      // One outside its key's usual span has its finding already.
      if (is !== "point" || isOutsideUsual(chosen.fact)) continue;
      const [first] = slips;
      if (!first) continue;
      report({
        message: `${textAt(at)} is written for ${nameOf(chosen, path)} and ${giver(asked)} asks for ${written(asked)}. Was ${first.text} meant?`,
        at, path, severity: quantity.figures.length > 0 ? "error" : "warning", fixes: slipFixes(slips, at),
        related: [{ message: "It is asked for here.", at: asked.location }],
      });
    }
  },
};

function formatPercent(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`;
}

/** Ends this many times apart are no band that anybody works to. Common practice, no source. */
const WIDEST_BAND = 8;
/** Share of itself that a torque is ever left open by; makers leave a tenth, makers of covers a quarter. Common practice, no source. */
const WIDEST_TORQUE = 0.5;
/** A tool's range is wider: one wrench reaches from a twentieth of its greatest torque at best. Common practice, no source. */
const WIDEST_TOOL = 40;

/** A band of which one end slipped: its ends are far apart, or its tolerance is as large as itself, and a moved point would mend it. */
function ofItsOwnEnds(declaration: Declaration, fact: FigureFact): Report | undefined {
  if (fact.value.is !== "quantity" || fact.key.key === "speed") return undefined;
  const { quantity } = fact.value;
  const at = { tree: declaration.tree, span: fact.span };
  const { low, nominal, high } = quantity.interval;
  const [first, second] = quantity.digits;
  if (first === undefined || second === undefined || quantity.figures.length !== 2) return undefined;
  const wide = quantity.shape === "range" && low > 0 && high / low >= (fact.key.key === "range" ? WIDEST_TOOL : WIDEST_BAND);
  const loose = quantity.shape === "tolerance" && nominal > 0 && (low <= 0 || (quantity.kind === "torque" && low < nominal * (1 - WIDEST_TORQUE) - 1e-12));
  if (!wide && !loose) return undefined;
  const mended = shiftPoint(first, 1);
  const other = shiftPoint(second, -1);
  const edit = (i: 0 | 1, text: string) => ({ title: `Change to ${text}`, safe: false, edits: [{ tree: declaration.tree, span: quantity.figures[i] as { start: number; end: number }, text }] });
  return {
    message: wide ? `The ends of ${textAt(at)} for \`${fact.key.key}\` lie ${Math.round(high / low)} times apart. Was ${mended} or ${other} meant for one of them?` : `${textAt(at)} for \`${fact.key.key}\` has a tolerance ${low <= 0 ? "as large as the figure itself" : "of half the figure"}. Was ${mended} or ± ${other} meant?`,
    at, path: fact.path, fixes: [edit(0, mended), edit(1, other)],
  };
}

function againstUsual(declaration: Declaration, fact: FigureFact): Report | undefined {
  const { usual } = fact.key;
  const values = fact.value.is === "quantity" ? [fact.value] : fact.value.is === "stages" && fact.key.type.is === "quantities" ? fact.value.stages : [];
  if (!usual) return undefined;
  for (const { quantity, qualifiers } of values) {
    // An oversize is added to the standard size, and a figure of the key's other kind is on another scale: the span says nothing of either.
    if (qualifiers["oversize"] !== undefined || (fact.key.type.is === "quantity" && fact.key.type.kind !== quantity.kind)) continue;
    const found = outside(declaration, fact.key.key, quantity, usual);
    if (found) return { ...found, path: fact.path };
  }
  return undefined;
}

/** What is cold to the touch, from an open shed in winter to a hot day. */
const COLD = celsius(-20, 45);

/** No fuel burns richer than this by weight, methanol included: an afr below it is no afr. Common practice, no source. */
const RICHEST_AFR = 3;

/** A figure, or one end of its range, outside what its key ever holds, that a moved point or another unit brings inside. */
function outside(declaration: Declaration, key: string, quantity: Quantity, usual: UsualSpan): Report | undefined {
  // A key that takes either scale of mixture has a span for both.
  const low = quantity.unit === "air-fuel-ratio" ? Math.max(usual.low, RICHEST_AFR) : usual.low;
  const span = { low, nominal: (low + usual.high) / 2, high: usual.high };
  const whole = likelySlips(quantity, span);
  const slips = whole.length > 0 ? whole : likelyEndSlips(quantity, span);
  const [first] = slips;
  if (!first) return undefined;
  const at = { tree: declaration.tree, span: quantity.span };
  const band = formatBand({ low, nominal: usual.high, high: usual.high }, quantity.kind, quantity.unit ?? unitFor(quantity.kind, "metric", usual.high));
  return { message: `${readingText(at, quantity)} is far from anything \`${key}\` holds on an engine, ${band} at most. Was ${first.text} meant?`, at, fixes: slipFixes(slips, at) };
}

/** Runs, pulls, tunes and wrenches keep figures too, and records within them. */
function figuresOf(record: RecordFact): readonly FigureFact[] {
  return [...record.figures, ...record.records.flatMap(figuresOf)];
}
