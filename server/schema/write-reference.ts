// Writes grammar/REFERENCE.md, the whole language as a builder needs it, from the vocabulary and the schema. For developers:
// `node server/schema/write-reference.ts`.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { UNIT_SPELLINGS } from "../../grammar/vocabulary.ts";
import { KINDS } from "../quantity/kinds.ts";
import { BUILD, ENGINE } from "./engine.ts";
import { FASTENER } from "./fastener.ts";
import { MEASUREMENTS } from "./measurements.ts";
import { PART_KINDS } from "./parts/index.ts";
import { DECLARATIONS, PHRASES } from "./phrases.ts";
import { QUALIFIER_SETS } from "./qualifiers.ts";
import { LOG, PLAN, PULL, RUN, STEP, TUNE } from "./records.ts";
import { SHOP } from "./shop.ts";
import { USUAL_JOBS, USUAL_STEPS } from "./steps.ts";
import type { BlockSchema, KeySchema } from "./types.ts";

/** The text of the reference; same schema, same bytes. */
export function referencePage(): string {
  const statements = Object.values(PHRASES).filter((p) => !(DECLARATIONS as readonly string[]).includes(p.word));
  return [
    "# The language",
    "Written by `node server/schema/write-reference.ts` from the vocabulary and the schema; do not edit.",
    "A file holds declarations. A declaration begins with its word in column one and has a block in braces. A block holds entries (`key: value`), tables (`| … |`), statements and further blocks; each stands on a line of its own, or after a semicolon. `///` before a thing explains it; `//` and `/* … */` are remarks.",
    "A figure has a unit, and where a unit is not enough a word that says of what. It may be a range (`1800 .. 2400 rpm`), carry a tolerance (`0.20 ± 0.02 mm`, `83.00 +0.02 -0.01 mm`), be a bound (`<= 8 psi`), a fraction (`3/8 in`, `1 1/2 turn`), a pair in both systems (`.008 in (0.20 mm)`, checked against each other), an oversize (`+0.50 mm over`), a feeler reading (`0.20 goes 0.22 stops mm`) or a sum (`12 mm + 1/2 in`). `…` stands for what is not filled in yet.",
    "## Declarations",
    ...DECLARATIONS.map((word) => `- \`${PHRASES[word]?.example ?? word}\`: ${PHRASES[word]?.words ?? ""}`),
    "## Statements",
    ...statements.map((p) => `- \`${p.example}\`: ${p.words}`),
    "## Words that say of what a figure is",
    "Where a key requires one of a set, `unstated` may be written instead when the source does not say; the widest reading is then used.",
    ...QUALIFIER_SETS.flatMap((set) => [`### ${set.id}`, `The word ${set.words}.`, Object.entries(set.options).map(([word, words]) => `- \`${word}\`: ${words}`).join("\n")]),
    "## Units",
    "Every spelling is read; the first is the one that is printed.",
    Object.values(UNIT_SPELLINGS).map((spellings) => `- ${spellings.map((s) => `\`${s}\``).join(", ")}`).join("\n"),
    "## Engine",
    ...blockPages(ENGINE, "engine", 3, new Set(PART_KINDS.map((k) => k.id))),
    "## Fastener",
    ...blockPages(FASTENER, "fastener", 3, new Set()),
    "## Build",
    "A build may give every key and block of an engine as its own choice, and these besides:",
    keyTable(BUILD.keys.filter((k) => !ENGINE.keys.some((e) => e.key === k.key))),
    "## Shop",
    ...blockPages(SHOP, "shop", 3, new Set()),
    "## Parts",
    ...PART_KINDS.flatMap((kind) => [
      `### part ${kind.id}`, kind.words, ...(kind.sided ? ["One side may have its own: `fit NAME for intake`."] : []),
      ...blockPages(kind, kind.id, 4, new Set(["limits"])).slice(1),
      ...((kind.fitKeys?.length ?? 0) > 0 ? ["Where it is fitted, the `fit` block may also say:", keyTable(kind.fitKeys ?? [])] : []),
    ]),
    "## Measurements",
    "`measured WHAT … on DATE { … }` records readings. They never replace what was asked for; values are worked out as specified and compared with what was measured.",
    MEASUREMENTS.map((m) => `- \`${m.id}\`: ${m.words} Such as \`${m.example}\`.`).join("\n"),
    "## Records",
    "What a build keeps of its life. Their figures never replace what was asked for or chosen.",
    ...[PLAN, STEP, RUN, PULL, LOG, TUNE].flatMap((block) => blockPages(block, block.id, 3, new Set(["weather"]))),
    "## Usual steps",
    "Common practice, no source; the engine's manual goes first. `plan { job: … }` takes the steps of a job; a step of your own with the name of a usual one replaces what it says itself and keeps the rest. Steps that have nothing to do on an engine are left out: no coolant where air cools, no caps where the camshaft lies in the block, no springs where none are fitted.",
    "*Disturbs*: readings of it, whenever they were taken before, no longer hold once the step is done. *Ends*: readings from before the work began no longer hold; a trial assembly during the work may have taken them ahead. What is marked + counts where the camshaft lies above the valves, what is marked ° where it lies below them.",
    Object.entries(USUAL_JOBS).map(([job, steps]) => `- \`job: ${job}\`: ${steps.map((s) => `\`${s}\``).join(", ")}`).join("\n"),
    stepTable(),
  ].join("\n\n") + "\n";
}

function stepTable(): string {
  const list = (names: readonly string[] | undefined, mark = "") => (names ?? []).map((n) => `\`${n}\`${mark}`);
  const rows = USUAL_STEPS.map((s) => [
    `\`${s.id}\``, s.words, [...list(s.after), ...list(s.afterOverhead, "+"), ...list(s.afterPushrod, "°")].join(", "), list(s.measures).join(", "),
    [...list(s.disturbs), ...list(s.disturbsOverhead, "+")].join(", "), list(s.ends).join(", "), list(s.tightens).join(", "), list(s.fits).join(", "),
  ]);
  return ["| step | what is done | comes after | measures | disturbs | ends | tightens | goes in with it |", "|---|---|---|---|---|---|---|---|", ...rows.map((cells) => `| ${cells.map(cell).join(" | ")} |`)].join("\n");
}

function blockPages(block: BlockSchema, path: string, level: number, leaveOut: ReadonlySet<string>): string[] {
  const head = "#".repeat(Math.min(level, 6));
  return [
    `${head} \`${path}\``, ...(block.words ? [block.words] : []), ...(block.keys.length > 0 ? [keyTable(block.keys)] : []),
    ...(block.table ? [`Table: ${block.table.words}`, `\`${block.table.example}\``] : []),
    ...Object.entries(block.blocks ?? {}).flatMap(([word, inner]) => (leaveOut.has(word) ? [] : blockPages(inner, `${path} ${word}`, level + 1, leaveOut).map((line, i) => (i === 0 ? line : line)))),
  ];
}

function keyTable(keys: readonly KeySchema[]): string {
  const rows = keys.map((k) => `| \`${k.key}\` | ${cell(k.words)} | ${cell(takes(k))} | \`${k.example.replaceAll("|", "\\|")}\` |`);
  return ["| key | what it is | takes | such as |", "|---|---|---|---|", ...rows].join("\n");
}

function takes(key: KeySchema): string {
  const type = key.type;
  const sets = [...(key.qualifiers ?? []).map((q) => `says ${q}`), ...(key.mayQualify ?? []).map((q) => `may say ${q}`)];
  const first = type.is === "quantity" || type.is === "quantities" ? [type.kind, ...(type.is === "quantity" ? (type.or ?? []) : [])].map((k) => KINDS[k].words).join(" or ") : type.is === "word" ? Object.keys(type.options).join(", ") : type.is === "yes-no" ? "yes or no" : type.is;
  return [first, ...sets].join("; ");
}

function cell(text: string): string {
  return text.replaceAll("|", "\\|");
}

if (import.meta.main) writeFileSync(join(import.meta.dirname, "..", "..", "grammar", "REFERENCE.md"), referencePage());
