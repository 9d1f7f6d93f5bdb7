// Why a figure or a value is what it is: its chain of asked, chosen, measured, computed and assumed, and what depends on it. Knows no command.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, type Slot, effective } from "../model/effective.ts";
import { plainValue } from "../model/plain-value.ts";
import { formatBand } from "../quantity/display.ts";
import { kindOf } from "../quantity/kinds.ts";
import { keyOfPath, nearest } from "../schema/lookup.ts";
import type { Sheet, SheetValue } from "../sheet/evaluate.ts";
import { type MeasuredReading, measuredReadings, placeWords } from "../sheet/measured.ts";
import { formattedValue, traceOf } from "../sheet/trace.ts";
import type { Atlas } from "./place.ts";

/** One link of a chain, newest first. */
export interface Link {
  readonly sort: "chosen" | "asked" | "measured" | "computed" | "assumed" | "looked up";
  /** "asked for by Ridgeway 272", "measured on 2027-03-14". */
  readonly words: string;
  readonly value: string;
  /** True for the one that counts now. */
  readonly counts: boolean;
  readonly source?: string;
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  /** Path or id to ask about next. */
  readonly next?: string;
}

export interface Why {
  readonly path: string;
  readonly label: string;
  readonly words: string;
  readonly value: string | null;
  /** For a computed value: the formula, and the formula with the numbers in it. */
  readonly formula?: string;
  readonly worked?: string;
  readonly source?: string;
  readonly chain: readonly Link[];
  /** Figures that would give it, where it could not be worked out. */
  readonly missing: readonly string[];
  /** Ids of computed values that rest on it. */
  readonly dependents: readonly { readonly id: string; readonly label: string; readonly value: string | null }[];
}

/** The refusal is one sentence that names what was probably meant. */
export function whyOf(sheet: Sheet, atlas: Atlas, path: string): Why | { readonly refusal: string } {
  const value = sheet.byId.get(path);
  if (value) return valueWhy(sheet, atlas, value);
  const slot = sheet.build.slots.get(path);
  const readings = measuredReadings(sheet.build).filter((r) => r.path === path);
  if (slot || readings.length > 0) return figureWhy(sheet, atlas, path, slot, readings);
  if (keyOfPath(path)) return { refusal: `Nothing says what ${path} is in this build.` };
  const near = nearest(path, [...sheet.byId.keys(), ...sheet.build.slots.keys()]);
  return { refusal: `There is no figure or value called ${path} here.${near.length > 0 ? ` Did you mean ${near.join(" or ")}?` : ""}` };
}

function valueWhy(sheet: Sheet, atlas: Atlas, value: SheetValue): Why {
  const trace = traceOf(value);
  const inputs = trace.inputs.map((input): Link => {
    const traced = value.inputs.find((t) => t.name === input.name);
    const sort: Link["sort"] = traced?.reading ? "measured" : input.valueId !== undefined ? "computed" : traced?.lookedUp ? "looked up" : traced?.provided ? traced.provided.role : "assumed";
    const next = input.valueId ?? (traced?.provided ? traced.provided.fact.path : undefined);
    return { sort, words: `${input.words}: ${input.origin}`, value: input.text, counts: true, ...placed(atlas, input.location), ...(next !== undefined && { next }) };
  });
  const measured = value.measured.map((m): Link => ({ sort: "measured", words: `as measured${m.place ? `, ${m.place}` : ""}`, value: formattedValue(m.value), counts: true, ...placed(atlas, m.readings[0]?.location) }));
  return {
    path: value.id, label: value.label, words: value.formula.words, value: value.interval ? formattedValue(value) : null, formula: trace.expression, worked: trace.worked, source: value.formula.source,
    chain: [...measured, ...inputs, ...value.assumptions.map((a): Link => ({ sort: "assumed", words: a, value: "", counts: true }))], missing: value.missing.map((m) => m.path),
    dependents: dependentsOf(sheet, (v) => v.inputs.some((i) => i.valueId === value.id)),
  };
}

function figureWhy(sheet: Sheet, atlas: Atlas, path: string, slot: Slot | undefined, readings: readonly MeasuredReading[]): Why {
  const key = slot?.key ?? keyOfPath(path);
  const current = effective(slot);
  // Readings come oldest first.
  const measured = [...readings].sort((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : 0)).map((r): Link => ({
    sort: "measured", words: `measured on ${r.date || "a day that is not given"}${placeWords(r.place) ? `, ${placeWords(r.place)}` : ""}`, value: formatBand(r.interval, r.kind, kindOf(r.kind).metric), counts: true, ...placed(atlas, r.location),
  }));
  const given = [...(slot?.chain ?? [])].reverse().map((p, i, all): Link => {
    const index = all.length - 1 - i;
    const fate = p === current ? "" : slot && index < slot.from ? ", taken off" : ", replaced";
    const source = p.origin.declaration.figures.find((f) => f.written === "source");
    return {
      sort: p.role, words: p.role === "asked" ? `asked for by ${p.origin.words}${fate}` : `chosen in this build${fate}`, value: plainValue(p.fact.value), counts: p === current,
      ...(source?.value.is === "text" && { source: source.value.text }), ...placed(atlas, p.location),
    };
  });
  return {
    path, label: key?.key ?? path, words: key?.words ?? "", value: current ? plainValue(current.fact.value) : null, chain: [...measured, ...given], missing: [],
    dependents: dependentsOf(sheet, (v) => current !== undefined && v.inputs.some((i) => i.provided === current)),
  };
}

/** Values that rest on something directly or through other values; helper values are passed through and left out. */
function dependentsOf(sheet: Sheet, direct: (value: SheetValue) => boolean): Why["dependents"] {
  const found = new Set(sheet.values.filter(direct));
  for (let grown = true; grown; ) {
    grown = false;
    for (const value of sheet.values) {
      if (found.has(value) || !value.inputs.some((i) => i.valueId !== undefined && found.has(sheet.byId.get(i.valueId) as SheetValue))) continue;
      found.add(value);
      grown = true;
    }
  }
  return sheet.values.filter((v) => found.has(v) && !v.formula.quiet).map((v) => ({ id: v.id, label: v.label, value: v.interval ? formattedValue(v) : null }));
}

function placed(atlas: Atlas, location: Location | undefined): Pick<Link, "file" | "line" | "column"> {
  const place = location && atlas.placeOf(location);
  return place ? { file: place.file, line: place.range.start.line, column: place.range.start.column } : {};
}

export function whyText(why: Why, build: EffectiveBuild): string {
  const lines = [`${why.path}: ${why.value ?? "not known"}`, ...(why.words ? [why.words] : [])];
  if (why.formula !== undefined) lines.push("", `  ${why.formula}`, `  = ${why.worked}`, `  = ${why.value ?? "not computed"}`, `  source: ${why.source}`);
  if (why.missing.length > 0) lines.push("", `It needs ${why.missing.join(", ")}.`);
  if (why.chain.length > 0) {
    lines.push("", why.formula === undefined ? "Where it comes from, newest first:" : "What it rests on:");
    for (const link of why.chain) {
      const where = link.file !== undefined ? ` (${link.file}:${link.line})` : "";
      lines.push(`  ${link.counts ? " " : "-"} ${[link.value, link.words].filter((t) => t !== "").join("  ")}${link.source !== undefined ? `, from ${link.source}` : ""}${where}`);
    }
  }
  lines.push("", why.dependents.length > 0 ? "What depends on it:" : `Nothing that is computed for ${build.subject.name?.text ?? "this build"} depends on it.`);
  for (const d of why.dependents) lines.push(`    ${d.id}: ${d.value ?? "not computed"}`);
  return `${lines.join("\n")}\n`;
}

