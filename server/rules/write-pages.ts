// Writes the pages of all rules into one document. A door of its own for developers: `node server/rules/write-pages.ts`.
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { cautionOf } from "../schema/cautions.ts";
import { RULES } from "./index.ts";
import type { Rule } from "./rule.ts";

const SEVERITY = { error: "error: do not turn this engine", warning: "warning: wrong unless you can say why", advice: "advice: worth knowing" } as const;

/** The document of these rules; same rules, same bytes. */
export function pagesText(rules: readonly Rule[]): string {
  const sorted = [...rules].sort((a, b) => (a.id < b.id ? -1 : 1));
  return [
    "# What the checker says",
    "",
    "Written by `node server/rules/write-pages.ts` from the rules themselves; do not edit. Every example below is run as a test.",
    "",
    "A `waive RULE because \"…\"` beside the thing silences a rule for that thing. What breaks engines needs a date as well: `until 2027-09-01`.",
    "A limit that was worked out here is never permission: the makers of the engine and of its parts come first.",
    "",
    "| Rule | Severity | What it checks |",
    "|---|---|---|",
    ...sorted.map((rule) => `| [\`${rule.id}\`](#${rule.id}) | ${rule.severity} | ${rule.page.summary} |`),
    "",
    ...sorted.flatMap((rule) => [pageText(rule), ""]),
  ].join("\n");
}

function pageText(rule: Rule): string {
  const { page } = rule;
  return [
    `## ${rule.id}`,
    "",
    page.summary,
    "",
    `Severity: ${SEVERITY[rule.severity]}.${rule.breaksEngines ? " It breaks engines: a waiver needs a date as well as a reason." : ""}`,
    "",
    `**Why it matters.** ${page.why}`,
    "",
    `**The limit.** ${page.limit}`,
    "",
    `**Source.** ${page.source.charAt(0).toUpperCase()}${page.source.slice(1)}.`,
    "",
    `**What to do.** ${page.remedy}`,
    "",
    ...(page.cautions ?? []).flatMap((id) => {
      const caution = cautionOf(id);
      return caution ? [`**Caution: ${caution.title}.** ${caution.words}`, ""] : [];
    }),
    "This is found:",
    "",
    "```tappet",
    page.bad.trim(),
    "```",
    "",
    "This is not:",
    "",
    "```tappet",
    page.good.trim(),
    "```",
  ].join("\n");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(join(dirname(fileURLToPath(import.meta.url)), "RULES.md"), pagesText(RULES));
