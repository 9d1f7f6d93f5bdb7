// Figures of one tool that cannot go together: a scale of five marks, a wrench that no hand could pull, a kit whose steps miss its end.
// Offers readings; judges nothing.
import type { Declaration, FigureFact } from "../model/declaration.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import { formatValue } from "../quantity/display.ts";
import { textAt } from "./wording.ts";

export interface ToolSlip {
  readonly fact: FigureFact;
  readonly quantity: Quantity;
  readonly slips: readonly Slip[];
  /** Goes on from the figure and its key. */
  readonly said: string;
}

/** The coarsest scale that is sold has a dozen marks. Common practice, no source. */
const COARSEST = 1 / 12;
/** Pull of both hands at the grip, N: a strong person's, with body weight behind it. Common practice, no source. */
const HARDEST_PULL = 1500;
/** No kit has more sizes. Common practice, no source. */
const LARGEST_KIT = 200;

/** Figures of wrenches and shim kits that contradict the range of the same tool. */
export function toolSlips(declaration: Declaration): readonly ToolSlip[] {
  const found: ToolSlip[] = [];
  const say = (fact: FigureFact) => textAt({ tree: declaration.tree, span: fact.span });
  const add = (fact: FigureFact | undefined, low: number, high: number, said: string) => {
    const quantity = quantityOf(fact);
    if (!fact || !quantity) return;
    const slips = likelySlips(quantity, { low, nominal: Math.sqrt(Math.max(low, Number.MIN_VALUE) * high), high });
    if (slips.length > 0) found.push({ fact, quantity, slips, said });
  };
  for (const record of declaration.records) {
    if (record.word !== "wrench") continue;
    const of = (key: string) => record.figures.find((f) => f.key.key === key);
    const range = of("range");
    const most = quantityOf(range)?.interval.high;
    if (!range || most === undefined || !(most > 0)) continue;
    add(of("step"), 0, most * COARSEST, `leaves a range of ${say(range)} next to no marks`);
    const length = of("length");
    const pull = length && quantityOf(length) ? most / (quantityOf(length) as Quantity).interval.nominal : 0;
    if (pull > HARDEST_PULL) add(length, most / HARDEST_PULL, most / 100, `takes a pull of ${formatValue(pull, "force", "newton")} at ${formatValue(most, "torque", quantityOf(range)?.unit ?? "newton-metre")}`);
  }
  const [range, step] = ["shop.shims.range", "shop.shims.step"].map((path) => declaration.figures.find((f) => f.path === path));
  const [ends, one] = [quantityOf(range)?.interval, quantityOf(step)?.interval.nominal];
  if (range && step && ends && one !== undefined && one > 0) {
    const steps = (ends.high - ends.low) / one;
    // Three sizes are no kit, and a step that misses the thickest is no step.
    const misses = Math.abs(steps - Math.round(steps)) > 1e-6;
    if (steps < 3 || (misses && steps < 12)) add(step, (ends.high - ends.low) / LARGEST_KIT, (ends.high - ends.low) / 12, misses ? `does not lead from one end of ${say(range)} to the other` : `leaves ${say(range)} next to no sizes`);
  }
  return found;
}

function quantityOf(fact: FigureFact | undefined): Quantity | undefined {
  return fact?.value.is === "quantity" ? fact.value.quantity : undefined;
}
