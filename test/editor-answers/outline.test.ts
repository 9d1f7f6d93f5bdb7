/** The outline of files that an editor could not lay out whole. */
import { describe, expect, test } from "vitest";
import { readSource } from "../../grammar/read.ts";
import { MOST_OUTLINED, type OutlineItem, outlineOf } from "../../server/editor/outline.ts";
import { projectFileOf } from "../../server/workspace/load.ts";

const count = (items: readonly OutlineItem[]): number => items.reduce((sum, item) => sum + 1 + count(item.children), 0);
const outlined = (text: string) => outlineOf(projectFileOf(readSource("file:///a.tappet", text))).map(({ item }) => item);
const parts = (many: number, inside: string) => Array.from({ length: many }, (_, i) => `part camshaft shaft-${i} {\n${inside}\n}\n`).join("\n");

describe("the outline", () => {
  test("lists every figure while there are not too many", () => {
    expect(count(outlined(parts(MOST_OUTLINED / 5, "  intake { lobe-lift: 7 mm; lash: 0.2 mm cold }\n  maker: \"x\"")))).toBe(MOST_OUTLINED);
  });
  test("leaves the figures out of a longer file, then the blocks, and never a declaration", () => {
    const blocks = outlined(parts(MOST_OUTLINED / 2, "  intake { lobe-lift: 7 mm }"));
    expect(blocks.map((i) => [i.name, i.children.map((c) => c.name), i.children[0]?.children]).at(-1)).toEqual([`shaft-${MOST_OUTLINED / 2 - 1}`, ["intake"], []]);
    const bare = outlined(parts(MOST_OUTLINED, "  intake { lobe-lift: 7 mm }"));
    expect(bare.length).toBe(MOST_OUTLINED);
    expect(bare.every((i) => i.children.length === 0)).toBe(true);
  });
  test("keeps what it made of a declaration that only moves, and says where it lies now", () => {
    const text = parts(3, "  intake { lobe-lift: 7 mm }");
    const before = projectFileOf(readSource("file:///a.tappet", text));
    const first = outlineOf(before);
    const longer = `// a remark\n\n${text}`;
    const moved = outlineOf(projectFileOf(readSource("file:///a.tappet", longer, before.source), before));
    expect(moved).toEqual(outlineOf(projectFileOf(readSource("file:///a.tappet", longer))));
    expect(moved.map(({ start }) => longer.startsWith("part camshaft", start))).toEqual([true, true, true]);
    expect(moved.every(({ item }, i) => item === first[i]?.item)).toBe(true);
  });
});
