// A flywheel, clutch or crank pulley that turns faster than its maker allows.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { recordWords, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { called, quantityOf, readingText, textAt } from "./wording.ts";

/** Kinds of part that turn with the crank and burst when they are overrun. */
export const TURNS_WITH_THE_CRANK: ReadonlySet<string> = new Set(["flywheel", "clutch", "crank-pulley"]);

export const RULE: BuildRule = {
  id: "rotating-parts-over-limit",
  scope: "build",
  on: ["build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "A flywheel, clutch or crank pulley is to turn, or has turned, faster than its maker allows.",
    why: "The stress in a disc grows with the square of its speed: a fifth over the limit is nearly half as much again. What lets go passes through bell housing, floor and feet.",
    limit: "The part's own `max-speed`, against the redline, every tune's `rev-limit`, and the highest speed of every run and pull. Without a maker's figure nothing is judged.",
    source: "the part's maker; that the stress of a turning disc grows with the square of its speed stands in every machine-design textbook",
    remedy: "Lower redline and rev limit, or fit a part that is rated for the speed. One that has been overrun is replaced, not looked at.",
    cautions: ["burst-speed", "rotating"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

part flywheel light-18 "Light flywheel" for dunlin-18 {
  source: "box"
  max-speed: 7000 rpm
}

build wren-hill-2 on dunlin-18 {
  redline: 7300 rpm
  fit light-18
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

part flywheel light-18 "Light flywheel" for dunlin-18 {
  source: "box"
  max-speed: 8000 rpm
}

build wren-hill-2 on dunlin-18 {
  redline: 7300 rpm
  fit light-18
}
`,
  },
  check({ build, report }) {
    const speeds = speedsOf(build);
    for (const part of build.parts) {
      if (!TURNS_WITH_THE_CRANK.has(part.kindId)) continue;
      const allowed = part.declaration.figures.find((f) => f.key.key === "max-speed");
      if (allowed?.value.is !== "quantity") continue;
      const { high } = allowed.value.quantity.interval;
      const over = speeds.filter((s) => compareWithLimit(s.quantity.interval.high, high) > 0).sort((a, b) => b.quantity.interval.high - a.quantity.interval.high);
      const [worst, ...others] = over;
      if (!worst) continue;
      const at = { tree: part.declaration.tree, span: allowed.span };
      report({
        message: `${worst.words} is ${readingText(worst.at, worst.quantity)}, and ${called(part.declaration)} may burst past the ${textAt(at).replace(/^[\w.-]+:\s*/, "")} that its maker allows. Lower it, or fit one that is rated for the speed.`,
        at: worst.at, path: "redline", related: [{ message: "Its maker's figure stands here.", at }, ...others.slice(0, 4).map((o) => ({ message: `${o.words} lies past it too.`, at: o.at }))],
      });
    }
  },
};

interface Speed {
  readonly words: string;
  readonly quantity: Quantity;
  readonly at: Location;
}

/** Every speed that the engine may reach or has reached. */
function speedsOf(build: EffectiveBuild): readonly Speed[] {
  const { tree } = build.subject;
  const redline = effective(build.slots.get("redline"));
  const quantity = quantityOf(redline)?.quantity;
  const stated = (word: "tune" | "run", key: string, words: (record: string) => string) =>
    recordsOf(build, word).flatMap((record) => record.figures.flatMap((f) => (f.key.key === key && f.value.is === "quantity" ? [{ words: words(recordWords(record)), quantity: f.value.quantity, at: { tree, span: f.span } }] : [])));
  const pulls = recordsOf(build, "pull").flatMap((pull): readonly Speed[] => {
    const column = pull.table?.heads.findIndex((h) => h.key?.key === "rpm") ?? -1;
    const cells = pull.table?.rows.flatMap((row) => row.cells[column] ?? []) ?? [];
    const top = cells.reduce<Speed | undefined>((most, cell) => (cell.quantity && (!most || cell.quantity.interval.nominal > most.quantity.interval.nominal) ? { words: `The highest speed of ${recordWords(pull)}`, quantity: cell.quantity, at: { tree, span: cell.span } } : most), undefined);
    return top ? [top] : [];
  });
  return [
    ...(redline && quantity ? [{ words: "The redline", quantity, at: redline.location }] : []),
    ...stated("tune", "rev-limit", () => "The tune's rev limit"),
    ...stated("run", "max-rpm", (record) => `The highest speed of ${record}`),
    ...pulls,
  ];
}
