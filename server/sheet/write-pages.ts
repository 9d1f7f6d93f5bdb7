// Writes FORMULAS.md, the page of every computed value, from the declarations. For developers: `node server/sheet/write-pages.ts`.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { SECTIONS } from "../schema/sections.ts";
import type { Formula, Input } from "./formula.ts";
import checks from "../../test/reference/checks.json" with { type: "json" };
import formulaChecks from "../../test/reference/formula-checks.json" with { type: "json" };
import recomputed from "../../test/reference/recomputed.json" with { type: "json" };
import { FORMULAS } from "./formulas/index.ts";

const EACH: Readonly<Record<string, string>> = { side: "SIDE", fastener: "FASTENER", pull: "PULL", "pull-speed": "SPEED", gear: "GEAR", cylinder: "CYLINDER" };

/** The text of the page; same declarations, same bytes. */
export function formulasPage(): string {
  const sections = SECTIONS.flatMap(({ id, title }) => {
    const formulas = FORMULAS.filter((f) => f.section === id);
    return formulas.length > 0 ? [`## ${title}`, ...formulas.map(entry)] : [];
  });
  return [
    "# What the sheet computes",
    "Written by `node server/sheet/write-pages.ts` from the formulas themselves; do not edit. Each value is declared once, with its inputs, unit and source; the sheet, hover, JSON and this page come from that declaration. SIDE is `intake` or `exhaust`, FASTENER the name of a fastener, PULL `on-` and the date of a pull, SPEED `at-` and an engine speed of the last pull, GEAR the number of a gear, CYLINDER the number of a cylinder. *Estimate* marks what rests on an empirical factor or an assumption. A value that lacks an input is not computed, and names the figure that would give it.",
    "*Checks* says what holds a formula from outside: published figures of `test/reference/checks.json` that a build file states and its sheet must answer, by where they come from, and a second working out by mathjs, a general library, from the inputs of every sheet of the samples (`test/reference/recomputed.json`; SI, angles in degrees, rotation in revolutions a minute).",
    totals(),
    ...sections,
  ].join("\n\n") + "\n";
}

function entry(f: Formula): string {
  const each = f.each ? (EACH[f.each] ?? f.each.toUpperCase()) : "";
  const fill = (text: string) => text.replaceAll("{each}", each);
  const inputs = Object.entries(f.inputs).map(([name, input]) => `- ${name}: ${inputWords(input, fill)}`);
  return [
    `### \`${fill(f.id)}\``,
    `${fill(f.label)}${f.unit ? `, in ${spellingOfUnit(f.unit)}` : ""}. ${f.words}`,
    `\`${f.expression.replaceAll("{each}", each).replace(/[{}]/g, "")}\``,
    ...(inputs.length > 0 ? [inputs.join("\n")] : []),
    ...(f.estimate ? [`*Estimate:* ${f.estimate}`] : []),
    `*Source:* ${f.source}`,
    `*Checks:* ${checksOf(f)}`,
  ].join("\n\n");
}

const PUBLISHED: Readonly<Record<string, readonly string[]>> = formulaChecks;
const RECOMPUTED: Readonly<Record<string, { readonly by: string }>> = recomputed.formulas;
const NOT_RECOMPUTED: Readonly<Record<string, string>> = recomputed.not;

/** True for a formula that passes one input on: there is nothing to work out a second time. */
export function isHandedOn(f: Formula): boolean {
  return !(f.id in RECOMPUTED) && !(f.id in NOT_RECOMPUTED) && (/^\{\w+\}$/.test(f.expression) || /^\{\w+\}, cam degrees counted twice$/.test(f.expression));
}

/** "3 computed from the exact formula, 1 confirmed". */
function byProvenance(ids: readonly string[]): string {
  const counts = Map.groupBy(ids, (id) => checks.find((c) => c.id === id)?.provenance ?? "unknown");
  return [...counts].map(([provenance, of]) => `${of.length} ${provenance}`).sort().join(", ");
}

function checksOf(f: Formula): string {
  const ids = PUBLISHED[f.id] ?? [];
  const published = ids.length > 0 ? `${ids.length} published (${byProvenance(ids)})` : "none published";
  const again = RECOMPUTED[f.id]?.by;
  return `${published}; ${again !== undefined ? `recomputed as \`${again}\`` : isHandedOn(f) ? "an input handed on, nothing to recompute" : `not recomputed: ${NOT_RECOMPUTED[f.id] ?? "nothing holds it from outside"}`}.`;
}

function totals(): string {
  const with_ = FORMULAS.filter((f) => (PUBLISHED[f.id] ?? []).length > 0).length;
  const ids = new Set(Object.values(PUBLISHED).flat());
  return `${FORMULAS.length} formulas: ${FORMULAS.filter((f) => f.id in RECOMPUTED).length} recomputed, ${FORMULAS.filter(isHandedOn).length} hand an input on, ${Object.keys(NOT_RECOMPUTED).length} named as not recomputed; ${with_} answer ${ids.size} published checks through a build file (${byProvenance([...ids])}). ${FORMULAS.filter((f) => f.estimate).length} are estimates. Of all ${checks.length} published checks (${byProvenance(checks.map((c) => c.id))}) those that no build file can state are held at the function or the unit that they are about.`;
}

function inputWords(input: Input<unknown>, fill: (text: string) => string): string {
  return `${readWords(input, fill)}${input.optional ? ", where given" : ""}${input.where ? ", where the build has it" : ""}${input.fallback ? `; otherwise ${input.fallback.assumption}` : ""}`;
}

function readWords(input: Input<unknown>, fill: (text: string) => string): string {
  const named = (paths: readonly string[]) => paths.map((p) => `\`${fill(p)}\``).join(" or ");
  switch (input.reads) {
    case "value":
      return `the value ${named([input.id])}`;
    case "thing":
    case "table":
      return input.needs.length > 0 ? `looked up by ${named(input.needs)}` : "from a table, or as recorded";
    case "either":
      return [...new Set(input.of.map((one) => readWords(one, fill)))].join(", or else ");
    default:
      return named(input.paths);
  }
}

if (import.meta.main) writeFileSync(join(import.meta.dirname, "FORMULAS.md"), formulasPage());
