// What a statement wants next, while it is being written: its parts in order, and which one the caret stands at. Knows no protocol.
import { caretAt } from "../../grammar/caret.ts";
import { phraseOf } from "../schema/lookup.ts";
import type { HeadRole } from "../schema/types.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { hereAt } from "./spot.ts";

export interface Signature {
  readonly label: string;
  readonly words: string;
  /** Parts of the label with what each is. */
  readonly parts: readonly { readonly start: number; readonly end: number; readonly words: string }[];
  readonly active: number;
}

const EXPLAINED: ReadonlySet<string> = new Set(["needs", "check", "waive", "fit", "measured", "part", "card", "build", "follow", "done", "run"]);

export function signatureAt(analysis: Analysis, uri: string, offset: number): Signature | undefined {
  const here = hereAt(analysis, uri, offset);
  const caret = here && caretAt(here.declaration.tree, here.offset);
  if (!caret || (caret.slot !== "head" && caret.slot !== "string")) return undefined;
  const before = caret.before.map((t) => t.text);
  const statement = before[0] ?? "";
  const phrase = EXPLAINED.has(statement) ? phraseOf(statement) : undefined;
  if (!phrase) return undefined;
  let label = statement;
  const parts = phrase.head.map((role) => {
    const text = `${role.after ? `${role.after} ` : ""}${placeholder(role)}`;
    const shown = role.optional ? `[${text}]` : text;
    const start = label.length + 1;
    label += ` ${shown}`;
    return { start, end: label.length, words: role.words };
  });
  return { label, words: `${phrase.words} Such as: ${phrase.example}`, parts, active: activeRole(phrase.head, before.slice(1)) };
}

function placeholder(role: HeadRole): string {
  return role.takes === "string" ? `"${role.role}"` : role.takes === "date" ? "YYYY-MM-DD" : role.takes === "condition" ? "VALUE >= FIGURE" : role.role.toUpperCase();
}

/** The role whose joining word was written last; before any, the first role that a word so far has not filled. */
function activeRole(roles: readonly HeadRole[], written: readonly string[]): number {
  for (let i = written.length - 1; i >= 0; i--) {
    const role = roles.findIndex((r) => r.after !== undefined && r.after === written[i]);
    if (role >= 0) return role;
  }
  let at = 0;
  for (const text of written) {
    const role = roles[at];
    if (!role) break;
    // A title is optional: a word that is no string belongs to the role after it.
    if (role.takes === "string" && !text.startsWith('"') && role.optional) at++;
    at++;
  }
  return Math.min(at, Math.max(0, roles.length - 1));
}
