// Writes FORMULAS.md, the page of every computed value, from the declarations. For developers: `node server/sheet/write-pages.ts`.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { SECTIONS } from "../schema/sections.ts";
import type { Formula, Input } from "./formula.ts";
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
  ].join("\n\n");
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
