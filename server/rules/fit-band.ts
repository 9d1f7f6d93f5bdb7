// How what was measured of a fit (a bearing's clearance, an end play, a ring's gap) stands to what is asked for, worst place first. Words the
// finding; the limit is the source's own and nothing else.
import { type Provided, asked } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { amount } from "./amount.ts";
import { bandOf, slackOf } from "./band.ts";
import type { BuildContext } from "./rule.ts";
import { giver, quantityOf, written } from "./wording.ts";

export interface Fit {
  /** The computed value that the readings give: `bearing.main.clearance`. */
  readonly valueId: string;
  /** The path that a source asks a range at. */
  readonly path: string;
  /** As a builder would call it, after "the": "clearance of the main bearing". */
  readonly what: string;
  /** What to do when it is too little, and when it is too much; without one, that end is not judged. */
  readonly tooLittle?: string;
  readonly tooMuch?: string;
}

/** Reports a fit once, at the reading that is furthest out, with the other places beside it. */
export function reportFit({ build, sheet, report }: BuildContext, fit: Fit, severity?: { readonly tooLittle?: "error"; readonly tooMuch?: "error" }): void {
  const source = asked(build.slots.get(fit.path));
  const quantity = quantityOf(source)?.quantity;
  const value = sheet.byId.get(fit.valueId);
  // One figure without a range says what is aimed at, not what is allowed.
  if (!source || !quantity || !value || quantity.shape === "single") return;
  const band = bandOf(quantity);
  const slack = slackOf(band, quantity);
  const out = value.measured.flatMap((m) => {
    const x = m.value.interval?.nominal;
    if (x === undefined) return [];
    const off = x < band.low - slack - NOISE ? x - band.low : x > band.high + slack + NOISE ? x - band.high : 0;
    return off !== 0 && (off < 0 ? fit.tooLittle : fit.tooMuch) !== undefined ? [{ place: m.place, x, off, at: m.readings[0]?.location }] : [];
  }).sort((a, b) => Math.abs(b.off) - Math.abs(a.off));
  const [worst, ...others] = out;
  if (!worst) return;
  const little = worst.off < 0;
  const remedy = (little ? fit.tooLittle : fit.tooMuch) as string;
  const where = worst.place ? `at ${worst.place} ` : "";
  report({
    message: `The ${fit.what} ${where}is ${shown(worst.x, quantity)}, ${little ? "less" : "more"} than the ${written(source)} that ${giver(source)} asks for${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "place is" : "places are"} out too` : ""}. ${remedy}`,
    at: worst.at ?? whereAsked(source), path: fit.path, ...amount(little ? "less" : "more", worst.x, quantity.kind, quantity.unit), ...(severity?.[little ? "tooLittle" : "tooMuch"] && { severity: "error" as const }),
    related: [{ message: "It is asked for here.", at: whereAsked(source) }, ...others.flatMap((o) => (o.at ? [{ message: `Out too: ${o.place}.`, at: o.at }] : []))],
  });
}

/** What conversion and subtraction leave behind, in metres. */
const NOISE = 1e-9;

function whereAsked(source: Provided) {
  return source.location;
}

/** In the asker's unit, with enough digits to be told from the limit. */
function shown(x: number, like: Quantity): string {
  return formatValue(x, like.kind, like.unit, { decimals: Math.max(like.decimals, like.unit === "inch" ? 4 : 2) });
}
