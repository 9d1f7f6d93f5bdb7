// The parts of the sheet that repeat what the files say, side by side: lash, fasteners, measurements, work, runs, the tune, parts, sources.
// Computes nothing.
import type { Declaration, FigureFact, MeasuredFact, RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, asked, chosen, effective, wordsFor } from "../model/effective.ts";
import type { DataFile } from "../model/project.ts";
import type { ReadingTable } from "../model/reading.ts";
import { plainQuantity } from "../model/plain-value.ts";
import { plainText } from "../model/value.ts";
import { formatValue } from "../quantity/display.ts";
import { breakInsOf } from "../sheet/running-in.ts";
import { tuneAt, tuneWords } from "../rules/tune-record.ts";
import type { SectionId } from "../schema/sections.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { type TuneChange, recordedFigures, tunesOf } from "../sheet/tune.ts";
import { recordedRuns } from "../sheet/recorded.ts";
import { recordingTables } from "./sheet-recordings.ts";
import type { Atlas, Place } from "./place.ts";
import type { SheetList, SheetTable } from "./sheet-model.ts";
import { baselineTables, evidenceTable, lashOverTime } from "./sheet-over-time.ts";
import { writtenText } from "./sheet-values.ts";
import { type PartsList, PART_STATUSES, partsList } from "./parts-list.ts";
import { missingWords, moneyWords, sumLines } from "./parts-report.ts";
import { tuneSentences } from "./tune-words.ts";
import { workLists } from "./sheet-work.ts";
import { capital } from "./wording.ts";

export interface Records {
  readonly tables: readonly SheetTable[];
  readonly lists: readonly SheetList[];
}

interface Sources {
  readonly build: EffectiveBuild;
  readonly sheet: Sheet;
  readonly atlas: Atlas;
  readonly data: ReadonlyMap<string, DataFile>;
  readonly asOf: string;
  /** True for a sheet that everybody may see: what is private is left out. */
  readonly open: boolean;
}

/** What the files say for a section. */
export function recordsOf(section: SectionId, sources: Sources): Records {
  const { build } = sources;
  const measured = build.measured.filter((m) => sectionOfMeasurement(m.what.text) === section).map((m) => measuredTable(m, sources));
  switch (section) {
    case "lash": return { tables: [...lashTable(sources), ...lashOverTime(sources), ...measured], lists: [] };
    case "fasteners": return { tables: [...fastenerTable(sources), ...measured], lists: [] };
    case "order-of-work": return { tables: measured, lists: workLists(sources) };
    case "running-in": return { tables: breakInTable(sources), lists: [] };
    case "runs-and-pulls": return { tables: [...baselineTables(sources), ...recordsNamed(build, "run").map((r) => figuresTable(r, sources)), ...recordsNamed(build, "pull").flatMap((r) => [figuresTable(r, sources), ...readingsTable(r)]), ...logTables(sources), ...measured], lists: [] };
    case "tune": return { tables: [...recordsNamed(build, "tune").flatMap((r) => tuneTables(r, sources)), ...measured], lists: tuneLists(sources) };
    case "parts": {
      const list = partsList(sources);
      return { tables: partsTable(sources, list), lists: partsLists(list) };
    }
    case "evidence": return { tables: evidenceTable(sources, sources.open), lists: [] };
    case "sources": return { tables: sourcesTable(sources), lists: [] };
    default: return { tables: measured, lists: [] };
  }
}

const MEASURED_IN: Readonly<Record<string, SectionId>> = {
  lash: "lash", preload: "lash", "preload-turns": "lash", shim: "lash",
  centreline: "breathing", opening: "breathing", closing: "breathing", lift: "breathing", "lobe-lift": "breathing",
  "piston-valve": "valve-gear", "valve-to-valve": "valve-gear", "rocker-ratio": "valve-gear", "spring-height": "valve-gear", "spring-load": "valve-gear", "spring-open-load": "valve-gear",
  "spring-free-length": "valve-gear", "solid-height": "valve-gear", "retainer-to-guide": "valve-gear", "stem-clearance": "valve-gear", "stem-height": "valve-gear", "valve-recess": "valve-gear",
  "pocket-depth": "valve-gear", "pushrod-length": "valve-gear",
  stretch: "fasteners", "bolt-length": "fasteners", torque: "fasteners",
  cranking: "runs-and-pulls", "leak-down": "runs-and-pulls", "oil-pressure": "runs-and-pulls", vacuum: "runs-and-pulls",
  "base-timing": "tune", "plug-gap": "tune", "injector-flow": "fuel-and-boost", "fuel-pressure": "fuel-and-boost", "belt-slack": "fuel-and-boost",
};

function sectionOfMeasurement(id: string): SectionId {
  return MEASURED_IN[id] ?? "bottom-end";
}

function recordsNamed(build: EffectiveBuild, word: string): readonly RecordFact[] {
  return build.subject.records.filter((r) => r.word === word);
}

function placed(place: Place | undefined): { place?: Place } {
  return place ? { place } : {};
}

function lashTable({ build, atlas }: Sources): SheetTable[] {
  const rows = ["intake", "exhaust"].flatMap((side) => {
    const slot = build.slots.get(`valve-gear.${side}.lash`);
    const [from, set] = [asked(slot), chosen(slot)];
    if (!from && !set) return [];
    const cell = (p: Provided | undefined) => (p ? writtenText(p) : "");
    const counts = set ?? from;
    return [{ cells: [capital(side), cell(from), from?.origin.words ?? "", cell(set)], ...placed(counts && atlas.placeOf(counts.location)) }];
  });
  return rows.length > 0 ? [{ caption: "Lash asked for and chosen", heads: ["Side", "Asked for", "By", "Chosen"], rows }] : [];
}

const FASTENER_KEYS = ["thread", "class", "count", "torque", "tighten", "sequence", "reuse"] as const;

function fastenerTable({ build, atlas }: Sources): SheetTable[] {
  if (build.fasteners.length === 0) return [];
  const rows = build.fasteners.map((name) => {
    const given = (key: string) => effective(build.slots.get(`fastener.${name}.${key}`));
    const first = [...FASTENER_KEYS].map(given).find((p) => p !== undefined);
    const cells = FASTENER_KEYS.map((key) => {
      const p = given(key) ?? (key === "class" ? given("grade") : undefined);
      return p ? writtenText(p) : "";
    });
    return { cells: [name, ...cells], ...placed(first && atlas.placeOf(first.location)) };
  });
  const used = FASTENER_KEYS.map((_, i) => rows.some((r) => r.cells[i + 1] !== ""));
  const heads = ["Thread", "Class", "Count", "Torque", "Stages", "Order", "Used again"];
  return [{ caption: "Fasteners as specified", heads: ["Fastener", ...heads.filter((_, i) => used[i])], rows: rows.map((r) => ({ ...r, cells: r.cells.filter((_, i) => i === 0 || used[i - 1]) })) }];
}

function measuredTable(m: MeasuredFact, { build, atlas }: Sources): SheetTable {
  const caption = ["Measured", m.what.text.replaceAll("-", " "), ...m.qualifiers.map((q) => q.text), m.date ? `on ${m.date.text}` : "undated"].join(" ");
  const at = (span: MeasuredFact["span"]) => placed(atlas.placeOf({ tree: build.subject.tree, span }));
  const figureRows = m.figures.map((f) => ({ cells: [f.key.key, textOf(build.subject, f)], ...at(f.span) }));
  if (m.readings.length === 0) return { caption, heads: ["Of", "Reading"], rows: figureRows };
  const heads = [...new Set(m.readings.map((r) => r.head))];
  const labels = [...new Set(m.readings.map((r) => r.row))];
  const grid = labels.map((label) => {
    const own = m.readings.filter((r) => r.row === label);
    const cells = heads.map((head) => {
      const reading = own.find((r) => r.head === head);
      if (!reading) return "–";
      const text = build.subject.tree.text.slice(reading.span.start, reading.span.end).replace(/\s+/g, " ").trim();
      return reading.quantity.unitText !== undefined && !text.endsWith(reading.quantity.unitText) ? `${text} ${reading.quantity.unitText}` : text;
    });
    return { cells: [label, ...cells], ...(own[0] ? at(own[0].span) : {}) };
  });
  const more = figureRows.map((r) => ({ ...r, cells: [r.cells[0] as string, r.cells[1] as string, ...heads.slice(1).map(() => "")] }));
  return { caption, heads: ["Of", ...heads], rows: [...grid, ...more] };
}

function breakInTable({ build, atlas }: Sources): SheetTable[] {
  const asked = [...build.slots.values()].filter((s) => s.key.key === "break-in").flatMap((slot) => effective(slot) ?? []);
  if (asked.length === 0) return [];
  const told = new Map(breakInsOf(build).map((b) => [b.asked, b]));
  const rows = asked.flatMap((given) => {
    const breakIn = told.get(given);
    const place = placed(atlas.placeOf(given.location));
    if (!breakIn) return [{ cells: [given.origin.words, writtenText(given), "", ""], ...place }];
    return breakIn.stages.map(({ asked: stage, needed, had }) => {
      const minutes = (time: number) => formatValue(time, "time", stage.clauses.find((c) => c.word === "for")?.quantity.unit ?? "minute");
      const left = needed - had;
      return { cells: [given.origin.words, breakIn.stages.length === 1 ? writtenText(given) : plainQuantity(stage).replace(" … ", " .. "), breakIn.untold ? "not said" : minutes(had), breakIn.untold ? "" : left > needed * 1e-9 ? minutes(left) : "nothing"], ...place };
    });
  });
  const known = rows.some((r) => r.cells[2] !== "");
  return [{ caption: "Running-in asked for", heads: ["By", "How", ...(known ? ["Run so fast", "Still due"] : [])], rows: known ? rows : rows.map((r) => ({ ...r, cells: r.cells.slice(0, 2) })) }];
}

/** Figures of a tune that are the tool's own book-keeping. */
const KEPT: ReadonlySet<string> = new Set(["scheme", "made-for", "file-print"]);

/** A tune as it is set: its figures, its curves, and what it was made for. */
function tuneTables(record: RecordFact, sources: Sources): SheetTable[] {
  const { build, atlas } = sources;
  const shown = { ...record, figures: record.figures.filter((f) => !KEPT.has(f.key.key)) };
  const curves = record.blocks.filter((b) => b.word !== "based-on").flatMap((b) => (b.table ? [tableOf(capital(b.word), b.table)] : []));
  const block = record.blocks.findLast((b) => b.word === "based-on");
  const changes = new Map(tuneChanges(record, sources).map((c) => [c.path, c.is ?? "not stated"]));
  const rows = (block ? recordedFigures(block) : []).map((f) => ({ cells: [f.path, f.text, changes.get(f.path) ?? "the same"], ...placed(block && atlas.placeOf({ tree: build.subject.tree, span: block.span })) }));
  return [figuresTable(shown, sources), ...curves, ...(rows.length > 0 ? [{ caption: "What it was made for", heads: ["Figure", "Then", "Now"], rows }] : [])].filter((t) => t.rows.length > 0);
}

function tuneChanges(record: RecordFact, { build, sheet, data }: Sources): readonly TuneChange[] {
  const state = tunesOf(sheet, data).find((look) => look.record === record)?.state;
  return state?.is === "stale" ? state.changes : [];
}

/** Whether each tune still answers for the engine. */
function tuneLists({ build, sheet, atlas, data }: Sources): SheetList[] {
  return tunesOf(sheet, data).map((look) => {
    const place = placed(atlas.placeOf(tuneAt(build, look)));
    return { caption: capital(tuneWords(look).replace(/^the /, "")), ticks: false, items: tuneSentences(look).map((text) => ({ text, ...place })) };
  });
}

/** What a recording came to; where it was not read, what is said of it. */
function logTables(sources: Sources): readonly SheetTable[] {
  const { build, atlas } = sources;
  const read = new Set(recordedRuns(build).map((run) => run.recording.record));
  return [...recordsNamed(build, "log").filter((r) => !read.has(r)).map((r) => figuresTable(r, sources)), ...recordingTables(build, atlas)];
}

/** A record's figures as they are written. */
function figuresTable(r: RecordFact, { build, atlas, open }: Sources): SheetTable {
  const name = r.head.filter((p) => p.kind === "word" && p.text !== "on").map(plainText).join(" ").replaceAll("-", " ");
  const file = r.head.find((p) => p.kind === "string");
  const caption = [capital(r.word), name, file ? plainText(file) : "", r.date ? `on ${r.date.text}` : ""].filter((t) => t !== "").join(" ");
  const rows = r.figures.filter((f) => !open || !f.key.private).map((f) => ({ cells: [f.key.key.replaceAll("-", " "), textOf(build.subject, f)], ...placed(atlas.placeOf({ tree: build.subject.tree, span: f.span })) }));
  return { caption, heads: ["Figure", "As written"], rows };
}

function readingsTable(r: RecordFact): SheetTable[] {
  return r.table ? [tableOf(`Readings${r.date ? ` of ${r.date.text}` : ""}`, r.table)] : [];
}

function tableOf(caption: string, table: ReadingTable): SheetTable {
  const heads = table.heads.map((h) => (h.unit ? `${h.text} (${h.unit.text})` : h.text));
  return { caption, heads, rows: table.rows.map((row) => ({ cells: heads.map((_, i) => row.cells[i]?.text || "–") })) };
}

/** Figures of a fit that say how the part came, not how it is set. */
const CAME: ReadonlySet<string> = new Set(["status", "cost", "quantity", "bought-from", "bought", "fitted", "serial", "condition"]);

function partsTable({ build, open }: Sources, list: PartsList): SheetTable[] {
  if (build.parts.length === 0) return [];
  const rows = build.parts.map((p, i) => {
    const entry = list.parts[i];
    const settings = p.fit.figures.filter((f) => (!open || !f.key.private) && !CAME.has(f.key.key)).map((f) => `${f.key.key}: ${textOf(build.subject, f)}`).join("; ");
    const came = entry ? [entry.quantity === null ? "" : `${entry.quantity} of them`, entry.condition ?? "", entry.serial === null ? "" : `serial ${entry.serial}`, entry.bought === null ? "" : `${entry.status === "ordered" ? "ordered" : "bought"} ${entry.bought}`, entry.from === null ? "" : `from ${entry.from}`, entry.fitted === null ? "" : `fitted ${entry.fitted}`].filter((t) => t !== "").join(", ") : "";
    return { cells: [p.words, `${p.kindId.replaceAll("-", " ")}${p.side ? `, ${p.side}` : ""}`, PART_STATUSES[entry?.status ?? "fitted"], settings, came, entry?.cost ? moneyWords(entry.cost) : "", sourceOf(p.declaration)], ...placed(entry?.place) };
  });
  const heads = ["Part", "Kind", "Status", "Set", "How it came", "Cost", "Source"];
  // What nobody says of any part has no column; that all are in need not be said either.
  const used = heads.map((head, k) => k < 2 || head === "Set" || head === "Source" || rows.some((r) => r.cells[k] !== "" && !(head === "Status" && r.cells[k] === PART_STATUSES.fitted)));
  const kept = <T>(cells: readonly T[]) => cells.filter((_, k) => used[k]);
  return [{ caption: list.parts.every((p) => p.status === "fitted") ? "Fitted" : "Parts", heads: kept(heads), rows: rows.map((r) => ({ ...r, cells: kept(r.cells) })) }];
}

/** What parts and cards ask for and nothing answers (the same that `need-unmet` reports, waived or not), what is still to be had, and what it costs. */
function partsLists(list: PartsList): SheetList[] {
  const still = [
    ...list.missing.map((m) => ({ text: missingWords(m), ...placed(m.place) })),
    ...list.parts.filter((p) => p.status === "wanted" || p.status === "ordered").map((p) => ({ text: `${p.part}: ${PART_STATUSES[p.status]}`, ...placed(p.place) })),
  ];
  const sums = sumLines(list).map((text) => ({ text }));
  return [...(still.length > 0 ? [{ caption: "Still missing", ticks: true, items: still }] : []), ...(sums.length > 0 ? [{ caption: "Cost", ticks: false, items: sums }] : [])];
}

/** What the build stands on and where its figures come from; an empty source where nobody says. */
export function sourcesOf(build: EffectiveBuild): readonly { readonly of: string; readonly sort: string; readonly source: string; readonly declaration: Declaration }[] {
  const from = [...(build.engine ? [build.engine] : []), ...build.parts.filter((p) => !p.fit.inline).map((p) => p.declaration), ...build.cards.map((c) => c.declaration)];
  return [...new Set(from)].map((d) => ({ of: wordsFor(d), sort: d.sort, source: sourceOf(d), declaration: d }));
}

function sourcesTable({ build, atlas }: Sources): SheetTable[] {
  const rows = sourcesOf(build).map(({ of, sort, source, declaration: d }) => ({ cells: [of, sort, source || "none given"], ...placed(atlas.placeOf({ tree: d.tree, span: d.name?.span ?? d.wordSpan })) }));
  return rows.length > 0 ? [{ caption: "Where the figures come from", heads: ["Of", "What", "Source"], rows }] : [];
}

function sourceOf(declaration: Declaration): string {
  const fact = declaration.figures.find((f) => f.written === "source");
  return fact?.value.is === "text" ? fact.value.text : "";
}

function textOf(declaration: Declaration, fact: FigureFact): string {
  if (fact.value.is === "text") return fact.value.text;
  return declaration.tree.text.slice(fact.span.start, fact.span.end).replace(/\s+/g, " ").trim();
}

