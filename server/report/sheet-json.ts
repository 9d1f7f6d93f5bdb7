// The sheet for programs, in the form that schemas/sheet.schema.json publishes: every value, also those that could not be worked out.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { fromKindBase, kindOf } from "../quantity/kinds.ts";
import type { Location } from "../model/declaration.ts";
import type { WaiverState } from "../rules/waiver-state.ts";
import type { SheetValue } from "../sheet/evaluate.ts";
import { type Evidence, evidenceOf } from "../sheet/evidence.ts";
import { at } from "../sheet/formula.ts";
import { DEFERENCE } from "../schema/cautions.ts";
import { cautionsOf } from "./sheet-cautions.ts";
import { sourcesOf } from "./sheet-records.ts";
import { tunesOf } from "../sheet/tune.ts";
import { type FindingJson, findingJson } from "./findings-json.ts";
import type { Atlas } from "./place.ts";
import { type RecordingJson, recordingsJson } from "./recordings-json.ts";
import { type SheetInput, openFindings, shownValues } from "./sheet-input.ts";
import { type PlanJson, workJson } from "./sheet-work.ts";
import { acceptedText } from "./waiver-report.ts";
import { type TuneJson, tuneJson } from "./tune-words.ts";

export interface PointJson {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

export interface ValueJson {
  readonly id: string;
  readonly label: string;
  readonly section: string;
  /** Empty for plain numbers and ratios. */
  readonly unit: string;
  /** Null where the value could not be worked out. */
  readonly low: number | null;
  readonly nominal: number | null;
  readonly high: number | null;
  readonly estimate: boolean;
  readonly formula: string;
  readonly source: string;
  readonly from: readonly PointJson[];
  /** Paths of the figures that would give it. */
  readonly missing: readonly string[];
  /** The same as it comes out of what was measured, place by place; empty where nothing it rests on was. */
  readonly measured: readonly MeasuredJson[];
}

export interface MeasuredJson {
  /** "cylinder 3", "intake a, cylinder 3"; empty where one reading serves the whole engine. */
  readonly place: string;
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
  /** The readings it rests on. */
  readonly from: readonly PointJson[];
}

export interface WaiverJson extends PointJson {
  readonly rule: string;
  readonly state: WaiverState;
  readonly reason: string;
  /** The figure that was accepted, as written. */
  readonly accepts: string | null;
  readonly until: string | null;
  /** How many findings it silences now. */
  readonly silences: number;
}

export interface SheetJson {
  /** Null for an engine by itself. */
  readonly build: string | null;
  readonly engine: string | null;
  /** The git revision that the files stand on, where it was asked for. */
  readonly revision?: string;
  readonly values: readonly ValueJson[];
  readonly findings: readonly FindingJson[];
  readonly waivers: readonly WaiverJson[];
  readonly recordings: readonly RecordingJson[];
  /** The tune that counts; null where none is recorded. */
  readonly tune: TuneJson | null;
  /** The order of work, plan by plan. */
  readonly work: readonly PlanJson[];
  readonly evidence: readonly EvidenceJson[];
  /** Where the figures of what it stands on come from; `source` is null where nobody says. */
  readonly sources: readonly { readonly of: string; readonly sort: string; readonly source: string | null }[];
  /** To be shown with the figures wherever they go. */
  readonly cautions: { readonly deference: string; readonly items: readonly { readonly id: string; readonly title: string; readonly words: string }[] };
  /** True where private notes and what was paid are left out. */
  readonly public: boolean;
}

export interface EvidenceJson extends PointJson {
  readonly sort: "note" | "photo" | "document";
  /** What it stands beside; empty for the build itself. */
  readonly about: string;
  readonly text: string;
  /** Null for a note. */
  readonly path: string | null;
  readonly date: string | null;
  readonly by: string | null;
  readonly private: boolean;
}

export function sheetJson(input: SheetInput): SheetJson {
  const { build, sheet, atlas } = input;
  const subject = build.subject;
  return {
    build: subject.sort === "build" ? (subject.name?.text ?? subject.title ?? "") : null,
    engine: build.engine?.name?.text ?? subject.on?.text ?? null, ...(input.revision !== undefined && { revision: input.revision }),
    values: shownValues(input).map((v) => valueJson(v, atlas)),
    findings: openFindings(input).map((f) => findingJson(f, atlas)),
    recordings: recordingsJson(build),
    waivers: input.waivers.flatMap(({ waiver: w, state, silences }) => {
      const place = atlas.placeOf({ tree: subject.tree, span: w.rule.span });
      return place
        ? [{ rule: w.rule.text, state, reason: w.because ?? "", accepts: acceptedText(subject, w) ?? null, until: w.until?.text ?? null, silences: silences.length, file: place.file, ...place.range.start }]
        : [];
    }),
    tune: tuneJson(tunesOf(sheet, input.data).find((look) => look.latest)),
    work: workJson(build), evidence: evidenceOf(build).filter((e) => !input.open || !e.private).flatMap((e) => evidenceJson(e, atlas)), sources: sourcesOf(build).map((s) => ({ of: s.of, sort: s.sort, source: s.source === "" ? null : s.source })), cautions: { deference: DEFERENCE, items: cautionsOf(build) }, public: input.open === true,
  };
}

function evidenceJson(e: Evidence, atlas: Atlas): EvidenceJson[] {
  const place = atlas.placeOf(e.at);
  return place ? [{ sort: e.word, about: e.about, text: e.text, path: e.file ?? null, date: e.date ?? null, by: e.by ?? null, private: e.private, file: place.file, ...place.range.start }] : [];
}

function valueJson(value: SheetValue, atlas: Atlas): ValueJson {
  const { formula, interval } = value;
  const told = (x: number) => rounded(fromKindBase(x, formula.unit, formula.kind));
  const number = (x: number | undefined) => (x === undefined ? null : told(x));
  const points = (locations: readonly Location[]) => locations.flatMap((location) => {
    const place = atlas.placeOf(location);
    return place ? [{ file: place.file, ...place.range.start }] : [];
  });
  const unit = formula.unit !== undefined ? spellingOfUnit(formula.unit) : kindOf(formula.kind).base;
  return {
    id: value.id, label: value.label, section: formula.section, unit, low: number(interval?.low), nominal: number(interval?.nominal), high: number(interval?.high),
    estimate: value.estimate, formula: formula.expression.replace(/\{([^{}]+)\}/g, "$1"), source: formula.source,
    from: points(value.from), missing: value.missing.map((m) => at(m.path, value.each)),
    measured: value.measured.flatMap(({ place, value: { interval: own }, readings }) => (own ? [{ place, low: told(own.low), nominal: told(own.nominal), high: told(own.high), from: points(readings.map((r) => r.location)) }] : [])),
  };
}

/** Twelve figures: what differs beyond them is the machine's arithmetic, not the engine's. */
function rounded(x: number): number {
  return Number.isFinite(x) ? Number(x.toPrecision(12)) : x;
}
