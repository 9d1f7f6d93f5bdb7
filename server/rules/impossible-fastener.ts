// Figures of one fastener that no bolt can have, by themselves or together.
import type { Declaration, FigureFact } from "../model/declaration.ts";
import type { Thread } from "../model/value.ts";
import { compareWithLimit } from "../quantity/display.ts";
import type { DeclarationRule } from "./rule.ts";
import { textAt } from "./wording.ts";

export const RULE: DeclarationRule = {
  id: "impossible-fastener",
  scope: "declaration",
  severity: "error",
  page: {
    summary: "Figures of a bolt, stud or nut cannot be true of one.",
    why: "One of them is a slip, and every load that is worked out from it would be nonsense.",
    limit: "A thread's pitch is less than a third of its diameter (the coarsest that ISO 261 and ASME B1.1 list are a quarter), and no bolt of an engine is thicker than 100 mm. The head is wider than its hole, the shank within the grip no longer than the grip, the grip no longer than the bolt, the greatest length no less than the length. Stages turn by something, and the final torque is more than a locking thread resists with.",
    source: "geometry; ISO 261 and ASME B1.1 for pitches",
    remedy: "Look both figures up again.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-cap { thread: M8x6; class: 8.8; torque: 20 ± 2 N·m oiled }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; class: 8.8; torque: 20 ± 2 N·m oiled }
}
`,
  },
  check(declaration, report) {
    for (const figures of fastenersIn(declaration).values()) {
      const name = nameIn(figures[0]?.path ?? "");
      const fact = (key: string) => figures.findLast((f) => f.path === `fastener.${name}.${key}`);
      const say = (f: FigureFact) => textAt({ tree: declaration.tree, span: f.span });
      const tell = (at: FigureFact, message: string, other?: FigureFact) =>
        report({ message, at: { tree: declaration.tree, span: at.span }, path: at.path, ...(other && { related: [{ message: "The other figure stands here.", at: { tree: declaration.tree, span: other.span } }] }) });
      const thread = fact("thread");
      const why = thread?.value.is === "thread" ? faultOfThread(thread.value.thread) : undefined;
      if (thread && why !== undefined) tell(thread, `\`${name}\` has a thread of ${say(thread)}, ${why}. Read the thread again.`);
      for (const [least, greatest, words] of ORDERS) {
        const [a, b] = [fact(least), fact(greatest)];
        const [low, high] = [leastOf(a), greatestOf(b)];
        if (a && b && low !== undefined && high !== undefined && high > 0 && compareWithLimit(low, high) > 0 && low < FAR * high) tell(a, `\`${name}\`: ${words(say(a), say(b))}. Look both up again.`, b);
      }
      const [hole, head] = [fact("hole-diameter"), fact("head-diameter")];
      const [inner, outer] = [leastOf(hole), greatestOf(head)];
      if (hole && head && inner !== undefined && outer !== undefined && inner >= outer) tell(hole, `\`${name}\`: a head of ${say(head)} falls through a hole of ${say(hole)}. Look both up again.`, head);
      const tighten = fact("tighten");
      const nothing = tighten?.value.is === "stages" ? tighten.value.stages.find((s) => s.quantity.interval.high <= 0) : undefined;
      if (tighten && nothing) report({ message: `A stage of \`${name}\` is ${textAt({ tree: declaration.tree, span: nothing.quantity.span })}, which turns nothing. Write the figure that is meant.`, at: { tree: declaration.tree, span: nothing.quantity.span }, path: tighten.path });
      const [prevailing, final] = [fact("prevailing-torque"), fact("torque")];
      const [resists, pulled] = [leastOf(prevailing), greatestOf(final)];
      if (prevailing && final && resists !== undefined && pulled !== undefined && pulled > 0 && resists >= pulled) tell(prevailing, `\`${name}\`: a thread that resists with ${say(prevailing)} takes all of ${say(final)} and nothing is clamped. Look both up again.`, final);
    }
  },
};

type Order = readonly [least: string, greatest: string, words: (a: string, b: string) => string];

const ORDERS: readonly Order[] = [
  ["shank-length", "grip", (a, b) => `a shank of ${a} is longer than the grip of ${b} that it lies in`],
  ["grip", "length", (a, b) => `a bolt of ${b} cannot clamp ${a}`],
  ["length", "max-length", (a, b) => `a new one of ${a} is longer than the ${b} that a used one may measure`],
];

/** Further apart one of the two is a slip of the point, which has its own finding. */
const FAR = 5;

/** Pitch over diameter from which no standard has a thread. */
const COARSEST = 1 / 3;
const THICKEST = 0.1;

/** What is wrong with a thread, to follow "a thread of M8x6, ", or nothing. */
export function faultOfThread({ diameter, pitch }: Thread): string | undefined {
  if (pitch > COARSEST * diameter) return "coarser than any that is cut on that diameter";
  return diameter > THICKEST ? "thicker than any bolt of an engine" : undefined;
}

function leastOf(fact: FigureFact | undefined): number | undefined {
  return fact?.value.is === "quantity" ? fact.value.quantity.interval.low : undefined;
}

function greatestOf(fact: FigureFact | undefined): number | undefined {
  return fact?.value.is === "quantity" ? fact.value.quantity.interval.high : undefined;
}

function nameIn(path: string): string {
  return /^fastener\.(.+)\.[^.]+$/.exec(path)?.[1] ?? "";
}

/** The figures of each fastener of a declaration, by its name. */
function fastenersIn(declaration: Declaration): ReadonlyMap<string, readonly FigureFact[]> {
  const found = new Map<string, FigureFact[]>();
  for (const fact of [...declaration.figures, ...declaration.fits.flatMap((f) => [...f.figures, ...(f.inline?.figures ?? [])])]) {
    const name = fact.path.startsWith("fastener.") ? nameIn(fact.path) : "";
    if (name !== "") found.set(name, [...(found.get(name) ?? []), fact]);
  }
  return found;
}
