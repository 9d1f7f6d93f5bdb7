// What every part shares: keys that any part or fit may carry, and the statements it may hold. Knows no single kind of part.
import type { KeySchema, PartKind } from "./types.ts";
import { LIMITS } from "./engine/limits.ts";
import { choice, date, figure, money, REMARK, SOURCE, text } from "./row.ts";
import { plain, rpm } from "./spans.ts";

/** Keys that any part may carry. They land under the part's own kind. */
const EVERY_PART: readonly KeySchema[] = [
  SOURCE,
  text("maker", '"Ridgeway"', "Who made the part.", { importance: "rare" }),
  text("part-number", '"RW-272-18"', "The number it is ordered by.", { importance: "rare" }),
  figure("max-speed", "rotation", "7400 rpm", "The engine speed that the part's maker allows it.", { usual: rpm(1500, 20000), importance: "useful" }),
  REMARK,
];

/** Keys that the fit of any part may carry. */
const EVERY_FIT: readonly KeySchema[] = [
  choice("condition", { new: "Never run.", used: "Has run before, in this engine or another.", reconditioned: "Reground, refaced or rebuilt since it last ran." }, "used", "Whether the part has run before: a used flat follower is worn to its old lobe.", { importance: "useful" }),
  text("serial", '"0417"', "The number stamped on this very part.", { importance: "rare" }),
  date("fitted", "The day it was fitted.", { importance: "rare" }),
  choice("status", { fitted: "In the engine.", "on-hand": "Here, not yet in.", ordered: "On its way.", wanted: "Not yet bought." }, "ordered", "Where the part is; in the engine where nothing is said.", { importance: "useful" }),
  figure("quantity", "count", "4", "How many were bought.", { usual: plain(1, 1000), importance: "rare" }),
  money("cost", "240.00 GBP", "What was paid for all of them, postage and duty with it; of a part not yet bought, what it is said to cost.", { private: true, importance: "useful" }),
  text("bought-from", '"A. Petch, autojumble"', "Who it came from.", { private: true, importance: "rare" }),
  date("bought", "The day it was bought or ordered.", { importance: "rare" }),
];

/** Statements that any part may hold. */
const PART_STATEMENTS = ["needs", "replaces", "fastener", "waive", "note", "photo", "document"];

type PartRecipe = Omit<PartKind, "statements"> & { readonly statements?: readonly string[] };

/** A part kind with the keys, fit keys and statements that every part shares. */
export function partKind(recipe: PartRecipe): PartKind {
  const own = new Set(recipe.keys.map((row) => row.key));
  const taken = new Set([...own, ...EVERY_PART.map((row) => row.key), ...(recipe.fitKeys ?? []).map((row) => row.key)]);
  return {
    ...recipe,
    keys: [...recipe.keys, ...EVERY_PART.filter((row) => !own.has(row.key))],
    fitKeys: [...(recipe.fitKeys ?? []), ...EVERY_FIT.filter((row) => !taken.has(row.key))],
    blocks: { limits: LIMITS, ...recipe.blocks },
    statements: [...PART_STATEMENTS, ...(recipe.statements ?? [])],
  };
}
