// Every block of the schema with the words that name it, each once, for tests that hold for all of them.
import { BUILD, CARD, ENGINE } from "../../server/schema/engine.ts";
import { FASTENER } from "../../server/schema/fastener.ts";
import { measurementBlock, MEASUREMENTS } from "../../server/schema/measurements.ts";
import { PART_KINDS } from "../../server/schema/parts/index.ts";
import { PHRASES } from "../../server/schema/phrases.ts";
import type { BlockSchema, KeySchema } from "../../server/schema/types.ts";

export function everyBlock(): ReadonlyMap<string, BlockSchema> {
  const found = new Map<string, BlockSchema>();
  const seen = new Set<BlockSchema>();
  const visit = (name: string, block: BlockSchema): void => {
    if (seen.has(block)) return;
    seen.add(block);
    found.set(name, block);
    for (const [word, inner] of Object.entries(block.blocks ?? {})) visit(`${name} > ${word}`, inner);
  };
  for (const kind of PART_KINDS) visit(`part ${kind.id}`, kind);
  visit("engine", ENGINE);
  visit("build", BUILD);
  visit("card", CARD);
  visit("fastener", FASTENER);
  for (const phrase of Object.values(PHRASES)) if (phrase.block) visit(phrase.word, phrase.block);
  for (const measurement of MEASUREMENTS) visit(`measured ${measurement.id}`, measurementBlock(measurement));
  return found;
}

/** Every distinct row with the block it was first met in. */
export function everyRow(): readonly (readonly [string, KeySchema])[] {
  const rows = new Map<KeySchema, string>();
  for (const [name, block] of everyBlock()) {
    const fitKeys = "fitKeys" in block ? ((block as { fitKeys?: readonly KeySchema[] }).fitKeys ?? []) : [];
    for (const row of [...block.keys, ...fitKeys, ...(block.table?.columns ?? [])]) if (!rows.has(row)) rows.set(row, name);
  }
  return [...rows].map(([row, name]) => [`${name} > ${row.key}`, row] as const);
}
