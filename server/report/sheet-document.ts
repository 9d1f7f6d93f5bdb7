// Composes the sheet's document from one build's results, in the order it is read. Knows no markup.
import { at } from "../sheet/formula.ts";
import type { SheetValue } from "../sheet/evaluate.ts";
import { wordsFor } from "../model/effective.ts";
import type { Finding } from "../rules/finding.ts";
import { DEFERENCE } from "../schema/cautions.ts";
import { SECTIONS } from "../schema/sections.ts";
import { nameOfSubject } from "./checked.ts";
import { type Atlas, type Place, lineWords } from "./place.ts";
import type { SheetFinding, SheetModel, SheetSection, SheetWaiver, ValueRow } from "./sheet-model.ts";
import { type SheetInput, openFindings, shownValues } from "./sheet-input.ts";
import { cautionsOf } from "./sheet-cautions.ts";
import { factsOf, paragraphOf, verdictOf } from "./sheet-opening.ts";
import { recordsOf } from "./sheet-records.ts";
import { systemOf } from "../model/system.ts";
import { valueRow } from "./sheet-values.ts";
import { acceptedText } from "./waiver-report.ts";
import { listed } from "./wording.ts";

export function sheetModel(input: SheetInput): SheetModel {
  const { build, sheet, atlas, asOf } = input;
  const open = openFindings(input);
  const values = shownValues(input);
  const context = { atlas, build, system: systemOf(build), findings: open };
  const rows = new Map<string, ValueRow>();
  for (const value of values) {
    const row = valueRow(value, context);
    if (row) rows.set(value.id, row);
  }
  const sections = SECTIONS.map(({ id, title }): SheetSection => {
    const own = values.filter((v) => v.formula.section === id && !v.formula.quiet);
    return {
      id, title, values: byGroup(own.flatMap((v) => rows.get(v.id) ?? [])), ...recordsOf(id, { build, sheet, atlas, asOf, data: input.data, open: input.open === true }), drawings: input.drawings?.get(id) ?? [],
      missing: own.filter((v) => !rows.has(v.id)).map((v) => ({ id: v.id, label: v.label, why: whyMissing(v) })),
    };
  });
  return {
    name: nameOfSubject(build.subject), title: wordsFor(build.subject), verdict: verdictOf(input, open), stopped: open.some((f) => f.severity === "error"), facts: factsOf(input),
    findings: open.map((f) => sheetFinding(f, input)), waivers: waiversOf(input),
    notChecked: input.unchecked.map((u) => ({ what: u.what, missing: u.missing.map((m) => m.path) })),
    engine: paragraphOf(build, rows), sections: sections.filter(hasSomething), deference: DEFERENCE, cautions: cautionsOf(build),
  };
}

/** What is of one thing stands together, in the order in which the things first come. */
function byGroup(rows: readonly ValueRow[]): readonly ValueRow[] {
  const groups = [...new Set(rows.map((row) => row.group?.name))];
  return groups.flatMap((group) => rows.filter((row) => row.group?.name === group));
}

function hasSomething(section: SheetSection): boolean {
  return section.values.length + section.tables.length + section.lists.length + section.drawings.length + section.missing.length > 0;
}

function whyMissing(value: SheetValue): string {
  if (value.impossible !== undefined) return value.impossible;
  return `needs ${listed(value.missing.map((m) => at(m.path, value.each)))}`;
}

function sheetFinding(finding: Finding, { atlas }: SheetInput): SheetFinding {
  const place = atlas.placeOf(finding.at);
  return {
    rule: finding.rule, severity: finding.severity, message: finding.message, ...(place && { place }), ...(finding.path !== undefined && { path: finding.path }),
    related: relatedOf(finding, atlas),
    fixes: finding.fixes.map((f) => f.title),
  };
}

function relatedOf(finding: Finding, atlas: Atlas): SheetFinding["related"] {
  const places = new Map<string, Map<string, Place>>();
  for (const r of finding.related) {
    const own = places.get(r.message) ?? new Map<string, Place>();
    places.set(r.message, own);
    const place = atlas.placeOf(r.at);
    if (place && !own.has(lineWords(place))) own.set(lineWords(place), place);
  }
  return [...places].map(([message, own]) => ({ message, places: [...own.values()] }));
}

/** Every waiver of the build stands on the sheet, whether it silences something now or not. */
function waiversOf({ build, atlas, waivers }: SheetInput): SheetWaiver[] {
  return waivers.map(({ waiver, state, silences }) => {
    const place = atlas.placeOf({ tree: build.subject.tree, span: waiver.rule.span });
    const accepts = acceptedText(build.subject, waiver);
    return {
      rule: waiver.rule.text, state, reason: waiver.because ?? "", ...(accepts !== undefined && { accepts }), ...(waiver.until && { until: waiver.until.text }), ...(place && { place }),
      silences: silences.map((f) => f.message),
    };
  });
}
