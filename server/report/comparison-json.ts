// A comparison for programs, in the form that schemas/comparison.schema.json publishes. Knows no wording of its own.
import type { BuildComparison, Cause, CauseSide, ComparedFinding, Comparison, FindingSide, LooseComparison } from "./comparison.ts";
import type { Place } from "./place.ts";

interface PointJson {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** Plain data: what is not there is null, so that every object has all its keys. */
export function comparisonJson(c: Comparison): unknown {
  return {
    before: { label: c.before.label, revision: c.before.revision ?? null }, after: { label: c.after.label, revision: c.after.revision ?? null }, asOf: c.asOf,
    counts: c.counts, builds: c.builds.map(buildJson), loose: c.loose.map(looseJson), elsewhere: c.elsewhere.map(findingJson), notes: c.notes,
  };
}

function buildJson(b: BuildComparison): unknown {
  return {
    name: b.name, title: b.title, is: b.is, fate: b.fate, from: b.from ?? null, to: b.to ?? null, renamed: b.renamed, causes: b.causes.map(causeJson), respelt: b.respelt.map(causeJson),
    values: b.values, margins: b.margins, findings: b.findings.map(findingJson), unchecked: b.unchecked, tune: b.tune ?? null,
  };
}

function looseJson(l: LooseComparison): unknown {
  return { sort: l.sort, name: l.name, fate: l.fate, from: l.from ?? null, to: l.to ?? null, causes: l.causes.map(causeJson) };
}

function causeJson(c: Cause): unknown {
  const side = (s: CauseSide | undefined) => s && { text: s.text, origin: s.origin, at: pointJson(s.place) };
  return { number: c.number, sort: c.sort, path: c.path, label: c.label, from: side(c.from) ?? null, to: side(c.to) ?? null };
}

function findingJson(f: ComparedFinding): unknown {
  const side = (s: FindingSide | undefined) => s && { severity: s.severity, message: s.message, at: pointJson(s.place) };
  return { change: f.change, rule: f.rule, path: f.path ?? null, from: side(f.from) ?? null, to: side(f.to) ?? null, causes: f.causes };
}

function pointJson(place: Place | undefined): PointJson | null {
  return place ? { file: place.file, ...place.range.start } : null;
}
