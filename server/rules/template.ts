// Text laid out for a builder to fill in: a part that is missing, its essential keys as holes. Knows the schema, not why the part is wanted.
import type { EffectiveBuild } from "../model/effective.ts";
import { whole } from "../model/reads.ts";
import { type System, systemOf } from "../model/system.ts";
import { withHole } from "../schema/hole.ts";
import type { BlockSchema, KeySchema, PartKind } from "../schema/types.ts";
import type { Edit } from "./finding.ts";

/** `fit KIND { key: … }` after the build's last fit, or first in its block. Undefined where the build has no block to put it in. */
export function fitTemplate(effective: EffectiveBuild, kind: PartKind, alsoKeys: readonly string[]): Edit | undefined {
  const build = effective.subject;
  const system = systemOf(effective);
  const last = build.fits[build.fits.length - 1];
  const { text } = whole(build.tree);
  if (last) {
    const indent = indentAt(text, last.span.start);
    return { tree: build.tree, span: { start: last.span.end, end: last.span.end }, text: `\n${layOut(kind, alsoKeys, indent, system)}` };
  }
  const from = (build.on?.span ?? build.name?.span ?? build.wordSpan).end;
  const brace = text.indexOf("{", from);
  if (!build.block || brace < 0 || brace >= build.span.end) return undefined;
  return { tree: build.tree, span: { start: brace + 1, end: brace + 1 }, text: `\n${layOut(kind, alsoKeys, "  ", system)}` };
}

function layOut(kind: PartKind, alsoKeys: readonly string[], indent: string, system: System): string {
  const lines = [`${indent}fit ${kind.id} {`, ...keyLines(kind, alsoKeys, `${indent}  `, system)];
  for (const side of ["intake", "exhaust"]) {
    const block = kind.blocks?.[side];
    const inner = block && keysOf(kind, []).length === 0 ? keyLines(block, [], `${indent}    `, system) : [];
    if (inner.length > 0) lines.push(`${indent}  ${side} {`, ...inner, `${indent}  }`);
  }
  return [...lines, `${indent}}`].join("\n");
}

function keyLines(block: BlockSchema, alsoKeys: readonly string[], indent: string, system: System): string[] {
  return keysOf(block, alsoKeys).map((key) => indent + withHole(key, system));
}

/** Essential keys; where a kind has none, its useful ones. A source is always asked for. */
function keysOf(block: BlockSchema, alsoKeys: readonly string[]): readonly KeySchema[] {
  const own = block.keys.filter((k) => k.key !== "source");
  const essential = own.filter((k) => k.importance === "essential" || alsoKeys.includes(k.key));
  return (essential.length > 0 ? essential : block.blocks?.["intake"] ? [] : own.filter((k) => k.importance === "useful").slice(0, 4));
}

function indentAt(text: string, offset: number): string {
  const line = text.lastIndexOf("\n", offset - 1) + 1;
  return /^[ \t]*/.exec(text.slice(line, offset))?.[0] ?? "";
}
