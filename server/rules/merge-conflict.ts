// Places where git could not merge and left both sides: one finding each, with both sides and what taking the other one would change. The first
// side is read until one is chosen, so that the rest of the file stays alive.
import { type Conflict, type Side, settledText } from "../../grammar/conflicts.ts";
import { readSource } from "../../grammar/read.ts";
import { effectiveOf } from "../model/effective.ts";
import { lower } from "../model/lower.ts";
import { type Project, type ProjectFile, scopeOf } from "../model/project.ts";
import { keyOfPath } from "../schema/lookup.ts";
import { compareSheets } from "../sheet/comparison.ts";
import { type Sheet, evaluate } from "../sheet/evaluate.ts";
import { FORMULAS } from "../sheet/formulas/index.ts";
import type { Fix } from "./finding.ts";
import type { FileRule } from "./rule.ts";

const MARKS = { first: "<".repeat(7), middle: "=".repeat(7), last: ">".repeat(7) };

export const RULE: FileRule = {
  id: "merge-conflict",
  scope: "file",
  severity: "error",
  page: {
    summary: "Two people changed the same figure, and git left both.",
    why: "Only one of the two can be in the engine, and git cannot know which. Until somebody chooses, a reader at the bench may take either.",
    limit: "None: a place with git's marks is one that nobody has decided. What the first side says is read meanwhile, and both sides are worked out to tell what the choice changes.",
    source: "the marks that git writes into a file that it could not merge",
    remedy: "Look at both figures and at what follows from each, keep one, and take the marks out. `tappet diff --conflicts` sets the two sides beside each other.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm
${MARKS.first} HEAD
  stroke: 82.00 mm
${MARKS.middle}
  stroke: 84.00 mm
${MARKS.last} long-stroke
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm
  stroke: 84.00 mm
}
`,
  },
  check({ file, everywhere, report }) {
    const { conflicts, text } = file.source;
    if (!conflicts) return;
    // The other side may use other files.
    const project = everywhere();
    const first = sheetsWith(project, file, conflicts, () => "ours");
    conflicts.forEach((conflict, i) => {
      const placed = file.source.declarations.findLast((d) => d.start <= conflict.span.start);
      if (!placed) return;
      const span = { start: conflict.mark.start - placed.start, end: conflict.mark.end - placed.start };
      const whole = { start: conflict.span.start - placed.start, end: conflict.span.end - placed.start };
      const [one, other] = namesOf(conflict);
      const fix = (side: Side, name: string): Fix => ({ title: `Keep what ${name} has`, safe: false, edits: [{ tree: placed.tree, span: whole, text: withoutLastEnd(text.slice(conflict[side].start, conflict[side].end)) }] });
      const theirs = { start: conflict.theirs.start - placed.start, end: Math.max(conflict.theirs.start, conflict.theirs.end - 1) - placed.start };
      report({
        message: `Not merged: ${one} has ${said(text, conflict, "ours")}, ${other} has ${said(text, conflict, "theirs")}. Keep one of them; until then what ${one} has is read.`,
        at: { tree: placed.tree, span },
        related: i < MOST_WORKED_OUT ? [{ message: consequences(other, first, sheetsWith(project, file, conflicts, (n) => (n === i ? "theirs" : "ours"))), at: { tree: placed.tree, span: theirs } }] : [],
        fixes: [fix("ours", one), fix("theirs", other)],
      });
    });
  },
};

/** Files with more conflicts than this are settled a few at a time. */
const MOST_WORKED_OUT = 8;
/** Builds that are worked out for a conflict in a file that many use. */
const MOST_BUILDS = 3;

function namesOf({ ourName, theirName }: Conflict): readonly [string, string] {
  return [ourName === "" ? "the first" : ourName, theirName === "" ? "the second" : theirName];
}

/** What one side says, on one line. */
function said(text: string, conflict: Conflict, side: Side): string {
  const lines = text.slice(conflict[side].start, conflict[side].end).replace(/\s+/g, " ").trim();
  if (lines === "") return "nothing";
  return `\`${(lines.length > 80 ? `${lines.slice(0, 80)} …` : lines).replaceAll("`", "'")}\``;
}

function withoutLastEnd(text: string): string {
  return text.replace(/\r\n$|[\r\n]$/, "");
}

/** The sheets of the builds that a file decides, with its conflicts settled one way; of its engines where no build is at hand. */
function sheetsWith(project: Project, file: ProjectFile, conflicts: readonly Conflict[], sideOf: (index: number) => Side): ReadonlyMap<string, Sheet> {
  const source = readSource(file.uri, settledText(file.source.text, conflicts, sideOf));
  const settled: ProjectFile = { uri: file.uri, source, declarations: source.declarations.map(({ tree }) => lower(tree)) };
  const whole: Project = { ...project, files: new Map(project.files).set(file.uri, settled) };
  const sheets = new Map<string, Sheet>();
  for (const sort of ["build", "engine"] as const) {
    if (sheets.size > 0) break;
    for (const home of whole.files.values()) {
      const scope = scopeOf(whole, home.uri);
      if (!scope.files.includes(settled)) continue;
      for (const declaration of home.declarations)
        if (declaration.sort === sort && sheets.size < MOST_BUILDS) sheets.set(declaration.name?.text ?? sort, evaluate(effectiveOf(declaration, scope), FORMULAS, (path) => keyOfPath(path)?.words ?? path));
    }
  }
  return sheets;
}

/** More values than this are counted, not named. */
const MOST_VALUES = 4;

function consequences(name: string, ours: ReadonlyMap<string, Sheet>, theirs: ReadonlyMap<string, Sheet>): string {
  const sentences = [...ours].flatMap(([build, before]) => {
    const after = theirs.get(build);
    const values = after ? compareSheets(before, after).values.filter((v) => !v.unseen && v.place === undefined) : [];
    if (values.length === 0) return [];
    const told = values.slice(0, MOST_VALUES).map((v) => `${(v.after ?? v.before)?.label ?? v.id} ${v.from === "" ? "nothing" : v.from} → ${v.to === "" ? "nothing" : v.to}`);
    const rest = values.length - told.length;
    return [`${build}: ${told.join("; ")}${rest > 0 ? `; and ${rest} more ${rest === 1 ? "value" : "values"}` : ""}`];
  });
  return sentences.length > 0 ? `With what ${name} has, ${sentences.join(". ")}.` : `With what ${name} has, no computed value comes out otherwise.`;
}
