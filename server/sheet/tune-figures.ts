// What a tune rests on in a build: every figure that reaches a value marked `tune` in the formulas, every figure whose key is so marked in the
// schema, and every part that asks for a tune and brings no such figure. Found by walking the formulas, so that no list of inputs is kept by
// hand. Knows formulas; knows no tune.
import { printOfText } from "../model/print.ts";
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import type { FigureValue, QuantityValue } from "../model/value.ts";
import { formatNumber } from "../quantity/display.ts";
import { exactly } from "../quantity/interval.ts";
import { type KindId, fromKindBase, toKindBase } from "../quantity/kinds.ts";
import { keyOfPath } from "../schema/lookup.ts";
import { HEEDED } from "./canonical.ts";
import { type Sheet, latest, stageOf } from "./evaluate.ts";
import { type Input, at } from "./formula.ts";
import { FORMULAS } from "./formulas/index.ts";
import { placesOf } from "./places.ts";
import { type Meaning, meaningOf, meaningOfFigure } from "./meaning.ts";

/** One thing that a tune rests on, as the build now has it. */
export interface TuneFigure {
  /** Path of the effective build: `camshaft.intake.duration`. */
  readonly path: string;
  /** For a person, and to be read back from a table's cell: `236 deg crank`, `petrol`, `"61 readings, 3f9c21d0"`. */
  readonly text: string;
  /** The same for every spelling of it. */
  readonly canonical: string;
  readonly location?: Location;
}

const TUNED = FORMULAS.filter((formula) => formula.tune);

/** In the order of their paths. */
export function tuneFigures(build: EffectiveBuild, sheet: Sheet): readonly TuneFigure[] {
  const found = new Map<string, TuneFigure>();
  const pathOf = new Map<Provided, string>();
  for (const [path, slot] of build.slots) for (const link of slot.chain) pathOf.set(link, path);
  const add = (provided: Provided) => {
    const path = pathOf.get(provided);
    const slot = path === undefined ? undefined : build.slots.get(path);
    if (path === undefined || !slot) return;
    // What counted before another took its place (a stock gasket's thickness) is told apart by who gave it.
    const name = effective(slot) === provided ? path : `${provided.origin.sort}.${path}`;
    if (found.has(name)) return;
    const figure = figureOf(provided.fact.value, slot.key.key, path, meaningOf(slot, provided));
    if (figure) found.set(name, { path: name, ...figure, location: provided.location });
  };
  const slotAt = (path: string) => {
    const given = effective(build.slots.get(path));
    if (given) add(given);
  };
  const seen = new Set<string>();
  const visitValue = (id: string) => {
    const value = sheet.byId.get(id);
    if (!value || seen.has(id)) return;
    seen.add(id);
    for (const input of Object.values(value.formula.inputs)) visit(input, value.each);
  };
  const visit = (input: Input<unknown>, each: string): void => {
    if (input.where && !input.where(build, each)) return;
    switch (input.reads) {
      case "figure": {
        const given = input.role === "measured" ? undefined : latest(build, input.paths.map((p) => at(p, each)), meaningOf, input.role);
        if (given) add(given.provided);
        return;
      }
      case "stage": {
        const given = latest(build, input.paths.map((p) => at(p, each)), (_, provided) => stageOf(provided, input.stage));
        if (given) add(given.provided);
        return;
      }
      case "value": return visitValue(at(input.id, each));
      case "either": {
        // The way that is gone; where none can be, everything that is known of any of them.
        const gone = input.of.find((one) => canBeRead(build, sheet, one, each));
        for (const one of gone ? [gone] : input.of) visit(one, each);
        return;
      }
      case "table": {
        const looked = input.look(build, each);
        if (looked) looked.provided?.forEach(add);
        else input.needs.forEach((p) => slotAt(at(p, each)));
        return;
      }
      case "thing": {
        const looked = input.look(build, each);
        const path = at(input.needs[0] ?? looked?.words ?? "", each);
        if (looked && !found.has(path)) found.set(path, { path, ...thingOf(looked.text, looked.figures ?? looked.what), ...(looked.location && { location: looked.location }) });
        looked?.provided?.forEach(add);
        return;
      }
      case "word": case "class": case "thread": {
        const path = input.paths.map((p) => at(p, each)).find((p) => effective(build.slots.get(p)));
        if (path !== undefined) slotAt(path);
      }
    }
  };
  for (const formula of TUNED) for (const each of formula.each === undefined ? [""] : placesOf(formula.each, build)) visitValue(at(formula.id, each));
  for (const [path, slot] of build.slots) if (restsOnKey(path) || slot.key.tune) slotAt(path);
  for (const part of build.parts) {
    const base = part.kind?.base ?? part.kindId;
    if (!part.kind?.asksForTune && !part.declaration.needs.some((need) => need.what.text === "tune")) continue;
    if ([...found.values()].some((f) => f.location?.tree === part.declaration.tree && f.path.startsWith(`${base}.`)) || found.has(base)) continue;
    found.set(base, { path: base, ...textFigure(part.words), location: { tree: build.subject.tree, span: part.fit.name?.span ?? part.fit.span } });
  }
  return [...found.values()].sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** True where a key is marked as one that a tune rests on, however the figure came to its path. */
function restsOnKey(path: string): boolean {
  return keyOfPath(path)?.tune === true;
}

/** Whether one way of several to come by a number can be gone. */
function canBeRead(build: EffectiveBuild, sheet: Sheet, input: Input<unknown>, each: string): boolean {
  switch (input.reads) {
    case "figure": return input.role !== "measured" && latest(build, input.paths.map((p) => at(p, each)), meaningOf, input.role) !== undefined;
    case "stage": return latest(build, input.paths.map((p) => at(p, each)), (_, provided) => stageOf(provided, input.stage)) !== undefined;
    case "value": return sheet.byId.get(at(input.id, each))?.interval !== undefined;
    case "either": return input.of.some((one) => canBeRead(build, sheet, one, each));
    case "table": case "thing": return input.look(build, each) !== undefined;
    case "word": case "class": case "thread": return input.paths.some((p) => effective(build.slots.get(at(p, each))));
  }
}

/** Significant figures that count: what differs beyond them is the machine's arithmetic, or a unit's factor, and not the engine's. */
const FIGURES = 9;

function rounded(x: number): string {
  const short = Number(x.toPrecision(FIGURES));
  return Object.is(short, -0) ? "0" : String(short);
}

/** Scales that have no common base: an octane number or a mixture is one only on its own. */
const SCALED: ReadonlySet<KindId> = new Set(["octane", "mixture"]);

/** What a quantity amounts to, and the words that no conversion has taken in yet: gauge or absolute, at lobe or at valve. */
export function canonicalQuantity(value: QuantityValue, { interval }: Meaning): string {
  const { kind, unit } = value.quantity;
  const words = Object.entries(value.qualifiers).filter(([set, word]) => !HEEDED.has(set) || word === "unstated").map(([, word]) => word).sort();
  return [kind, rounded(interval.nominal), ...(SCALED.has(kind) && unit !== undefined ? [unit] : []), ...words].join(" ");
}

/** What a figure amounts to and how it is written down. Its spread is left out: a tighter tolerance on the same figure is the same engine. */
function figureOf(value: FigureValue, key: string, path: string, meaning: Meaning | undefined): { readonly text: string; readonly canonical: string } | undefined {
  switch (value.is) {
    case "quantity": return meaning && { text: quantityText(value, key, path, meaning), canonical: canonicalQuantity(value, meaning) };
    case "word": return { text: value.word, canonical: value.word };
    case "yes-no": return { text: value.yes ? "yes" : "no", canonical: value.yes ? "yes" : "no" };
    case "text": case "class": case "date": return textFigure(value.text);
    case "thread": return textFigure(value.thread.text);
    case "order": return textFigure(value.order.join("-"));
    case "name": return textFigure(value.name.text);
    case "stages": return textFigure(value.stages.map((s) => `${s.quantity.kind} ${rounded(s.quantity.interval.nominal)}`).join(" then "));
    case "names": return textFigure(value.names.map((n) => n.text).join(", "));
    case "file": return textFigure(value.path.text);
    case "hole": return undefined;
  }
}

export function textFigure(text: string): { readonly text: string; readonly canonical: string } {
  const plain = text.replaceAll('"', "'").replace(/\s+/g, " ").trim();
  return { text: `"${plain}"`, canonical: plain };
}

/** Digits, unit and words as the builder wrote them where they come to the same; else the plain amount in the builder's unit. */
function quantityText(value: QuantityValue, key: string, path: string, meaning: Meaning): string {
  const { quantity, qualifiers } = value;
  const unit = quantity.unit;
  const written = numberText(quantity.interval.nominal, value);
  const words = Object.values(qualifiers);
  const same = qualifiers["oversize"] === undefined && meaningOfFigure({ ...value, quantity: { ...quantity, interval: exactly(toKindBase(Number(written), unit, quantity.kind)) } }, key, path, () => undefined);
  if (same && rounded(same.interval.nominal) === rounded(meaning.interval.nominal)) return [written, quantity.unitText ?? "", ...words].filter((t) => t !== "").join(" ");
  const kept = Object.entries(qualifiers).filter(([set]) => !HEEDED.has(set)).map(([, word]) => word);
  return [numberText(meaning.interval.nominal, value), quantity.unitText ?? "", ...kept].filter((t) => t !== "").join(" ");
}

/** A number of a base unit in the unit as written, with the digits that were written where they say it all. */
function numberText(base: number, { quantity }: QuantityValue): string {
  const inUnit = fromKindBase(base, quantity.unit, quantity.kind);
  const short = formatNumber(inUnit, { decimals: quantity.decimals });
  if (rounded(toKindBase(Number(short), quantity.unit, quantity.kind)) === rounded(base)) return short;
  return plainDigits(Number(inUnit.toPrecision(FIGURES + 1)));
}

/** Without an exponent, which the language does not read. */
function plainDigits(x: number): string {
  return /e/i.test(String(x)) ? x.toFixed(15).replace(/(?:\.|(?<!0))0+$/, "") : String(x);
}

/** What is no number, such as a lobe's shape: how it is told, and a print of its figures. */
function thingOf(text: string, what: unknown): { readonly text: string; readonly canonical: string } {
  const figures = JSON.stringify(what, (_, value: unknown) => (typeof value === "number" ? rounded(value) : value)) ?? "";
  return textFigure(`${text}, ${printOfText(figures).slice(0, 8)}`);
}
