// A bolt used again that its maker wants new, or that has grown too long.
import type { FigureFact } from "../model/declaration.ts";
import { asked, chosen, effective, wordAt } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import { measuredReadings, placeWords } from "../sheet/measured.ts";
import { plansOf } from "../sheet/work.ts";
import type { BuildContext, BuildRule } from "./rule.ts";
import { giver, quantityOf, readingAt, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "single-use-reused",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Bolts are to be used again that their maker wants new, or that measure too long.",
    why: "A bolt taken to yield is thinner and longer than it was. It may hold once more, or break at its first heat.",
    limit: "The source's own `reuse`; where it has none, a bolt with `method: to-yield` is taken as used up. An error where a measured length passes the source's `max-length`: that bolt has grown, and its maker says how much is too much. Where steps of two plans that tighten them are ticked off, they were used twice, unless `renewed`, or the day on which a set of them was fitted, lies between.",
    source: "the source's own word and length",
    remedy: "Fit new ones.",
    cautions: ["yield-bolts"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; method: to-yield; tighten: 30 N·m oiled, then 55 N·m, then 90 deg; reuse: never }
}

build wren-hill-2 on dunlin-18 {
  fastener head-bolt { reuse: once }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; method: to-yield; tighten: 30 N·m oiled, then 55 N·m, then 90 deg; reuse: measured; max-length: 141.5 mm }
}

build wren-hill-2 on dunlin-18 {
  fastener head-bolt { reuse: measured }
  measured bolt-length for head-bolt on 2027-03-01 { | bolt (mm) | 1 | 2 |
    | length | 140.6 | 140.8 | }
}
`,
  },
  check(context) {
    const { build, report } = context;
    for (const name of build.fasteners) {
      const slot = build.slots.get(`fastener.${name}.reuse`);
      const [source, own] = [asked(slot), chosen(slot)];
      if (own?.fact.value.is === "word") {
        const may = source?.fact.value.is === "word" ? source.fact.value.word : wordAt(build, `fastener.${name}.method`) === "to-yield" ? "never" : "yes";
        if (FREEDOM.indexOf(own.fact.value.word) > FREEDOM.indexOf(may)) {
          const says = source ? `${giver(source)} ${SAYS[may] ?? ""}` : "bolts tightened to yield are used up";
          report({ message: `\`${name}\` is to be used again, and ${says}. Fit new ones.`, at: own.location, path: own.fact.path, related: source ? [{ message: "It is said here.", at: source.location }] : [] });
        }
      }
      usedAgain(context, name);
      const limit = effective(build.slots.get(`fastener.${name}.max-length`));
      const greatest = quantityOf(limit)?.quantity.interval.high;
      if (!limit || greatest === undefined) continue;
      const long = measuredReadings(build).filter((r) => r.path === `fastener.${name}.length` && compareWithLimit(r.interval.low, greatest) > 0);
      const [worst, ...others] = [...long].sort((a, b) => b.interval.nominal - a.interval.nominal);
      if (!worst) continue;
      const place = placeWords(worst.place);
      report({
        message: `${place === "" ? `A bolt of \`${name}\`` : `${place.charAt(0).toUpperCase()}${place.slice(1)} of \`${name}\``} measures ${readingAt(build, worst.location)} and ${giver(limit)} allows ${written(limit)}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "is" : "are"} too long` : ""}. Fit new ones.`,
        at: worst.location, path: `fastener.${name}.length`, severity: "error", related: [{ message: "The limit stands here.", at: limit.location }],
      });
    }
  },
};

/** Bolts that plans say were tightened more often than they may be, with no day on which new ones went in between. */
function usedAgain({ build, report }: BuildContext, name: string): void {
  const reuse = effective(build.slots.get(`fastener.${name}.reuse`));
  const word = reuse?.fact.value.is === "word" ? reuse.fact.value.word : wordAt(build, `fastener.${name}.method`) === "to-yield" ? "never" : "yes";
  const most = word === "never" ? 1 : word === "once" ? 2 : undefined;
  if (most === undefined) return;
  const sets = build.parts.filter((p) => p.kindId === "fastener-set" && p.declaration.fasteners.some((f) => f.name.text === name));
  const fitted = sets.map((p) => p.fit.date?.text ?? dateIn(p.fit.figures, "fitted"));
  // A set that went in on no day may have gone in between.
  if (fitted.includes(undefined)) return;
  const own = effective(build.slots.get(`fastener.${name}.renewed`))?.fact.value;
  const renewed = [...fitted, own?.is === "date" ? own.text : undefined].filter((d) => d !== undefined).sort().at(-1);
  const tightened = plansOf(build).flatMap((plan) => {
    const days = plan.steps.filter((s) => s.tightens.includes(name) && s.name !== "retorque" && s.done).sort((a, b) => ((a.done?.date ?? "") < (b.done?.date ?? "") ? -1 : 1));
    const last = days.at(-1)?.done;
    return last ? [last] : [];
  }).filter((t) => renewed === undefined || t.date >= renewed).sort((a, b) => (a.date < b.date ? -1 : 1));
  const [first] = tightened;
  const last = tightened.at(-1);
  if (tightened.length <= most || !first || !last) return;
  const says = reuse ? `${giver(reuse)} ${SAYS[word] ?? ""}` : "bolts tightened to yield are used up";
  report({
    message: `\`${name}\` was tightened on ${first.date} and again on ${last.date}, and ${says}. Fit new ones, or say on which day they went in: renewed: ${last.date}.`,
    at: last.at, path: `fastener.${name}.reuse`, related: [{ message: "They were tightened before here.", at: first.at }, ...(reuse ? [{ message: "It is said here.", at: reuse.location }] : [])],
  });
}

function dateIn(figures: readonly FigureFact[], key: string): string | undefined {
  const value = figures.find((f) => f.key.key === key)?.value;
  return value?.is === "date" ? value.text : undefined;
}

/** From what takes most care to what takes least. */
const FREEDOM = ["never", "once", "measured", "yes"];
const SAYS: Readonly<Record<string, string>> = { never: "wants new ones every time", once: "allows them one more use", measured: "allows that only while they measure within their length" };
