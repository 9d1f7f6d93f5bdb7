// What a declaration still lacks, laid out to be filled in: the parts that fitted ones ask for, and the figures that an engine cannot do
// without. Leaves every figure open.
import type { Phrase, Span } from "../../grammar/tree.ts";
import type { Declaration } from "../model/declaration.ts";
import type { System } from "../model/system.ts";
import { needsOf } from "../rules/needs.ts";
import { fitTemplate } from "../rules/template.ts";
import { ENGINE } from "../schema/engine.ts";
import { withHole } from "../schema/hole.ts";
import type { BlockSchema, KeySchema } from "../schema/types.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { systemAt } from "./completion.ts";
import type { FileEdit } from "./fixes.ts";
import { insertionAfter } from "./items.ts";
import { hereAt, spotAt } from "./spot.ts";
import { counted } from "../report/wording.ts";

export interface LaidOut {
  readonly title: string;
  readonly edits: readonly FileEdit[];
}

/** What can be laid out for the declaration whose head the span touches, or whose fit asks for the part. */
export function missingAt(analysis: Analysis, uri: string, span: Span): LaidOut[] {
  const here = hereAt(analysis, uri, span.start);
  const spot = here && spotAt(here);
  if (!here) return [];
  const d = here.declaration;
  const onHead = here.offset <= (d.tree.phrase?.block?.span.start ?? 0);
  const onFit = spot?.on === "reference" && (spot.reference.role === "fit" || spot.reference.role === "follow");
  if (!onHead && !onFit) return [];
  if (d.sort === "build") return missingParts(analysis, uri, d, here.start);
  return d.sort === "engine" && onHead ? missingFigures(uri, d, systemAt(here), here.start) : [];
}

function missingParts(analysis: Analysis, uri: string, build: Declaration, start: number): LaidOut[] {
  const subject = analysis.fileResult(uri)?.subjects.find((s) => s.build.subject === build);
  if (!subject) return [];
  const wanted = new Map<string, { readonly kind: NonNullable<ReturnType<typeof needsOf>[number]["kind"]>; readonly also: Set<string> }>();
  for (const { need, kind, met } of needsOf(subject.build, subject.sheet)) {
    if (met || !kind) continue;
    const known = wanted.get(kind.id) ?? { kind, also: new Set<string>() };
    for (const condition of need.where) known.also.add(condition.path.text);
    wanted.set(kind.id, known);
  }
  // One alone is the finding's own fix.
  if (wanted.size < 2) return [];
  const templates = [...wanted.values()].flatMap(({ kind, also }) => fitTemplate(subject.build, kind, [...also]) ?? []);
  const first = templates[0];
  if (!first) return [];
  const text = templates.map((t) => t.text).join("");
  const names = [...wanted.keys()];
  return [{ title: `Lay out the ${counted(names.length, "missing part")} to fill in: ${names.join(", ")}`, edits: [{ uri, span: { start: first.span.start + start, end: first.span.end + start }, text }] }];
}

/** Blocks that nearly every figure of an engine rests on, besides its own keys. */
const TELLING_BLOCKS = ["combustion", "valve-gear"] as const;

function missingFigures(uri: string, engine: Declaration, system: System, start: number): LaidOut[] {
  const phrase = engine.tree.phrase;
  const block = phrase?.block;
  if (!phrase || !block) return [];
  const lines = (keys: readonly KeySchema[]) => keys.map((key) => withHole(key, system));
  const own = lines(lacking(ENGINE, phrase));
  const blocks = TELLING_BLOCKS.flatMap((word) => {
    const schema = ENGINE.blocks?.[word];
    const there = block.items.some((i) => i.kind === "phrase" && i.word.text === word);
    if (there || !schema) return [];
    const sides = ["intake", "exhaust"].flatMap((side) => {
      const keys = schema.blocks?.[side] ? lacking(schema.blocks[side], undefined) : [];
      return keys.length > 0 ? [`  ${side} { ${lines(keys).join("; ")} }`] : [];
    });
    return [[`${word} {`, ...lines(lacking(schema, undefined)).map((line) => `  ${line}`), ...sides, "}"].join("\n")];
  });
  const all = [...own, ...blocks];
  if (all.length === 0) return [];
  const edit = insertionAfter(engine.tree, block, block.items[block.items.length - 1], all.join("\n"));
  return [{ title: "Lay out the figures that this engine still lacks", edits: [{ uri, span: { start: edit.span.start + start, end: edit.span.end + start }, text: edit.text }] }];
}

function lacking(schema: BlockSchema, phrase: Phrase | undefined): readonly KeySchema[] {
  const given = new Set(phrase?.block?.items.flatMap((i) => (i.kind === "entry" ? [i.key.text] : [])) ?? []);
  return schema.keys.filter((k) => (k.required || k.importance === "essential") && !given.has(k.key) && !k.aliases?.some((a) => given.has(a)));
}
