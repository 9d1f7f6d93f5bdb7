import { expect, it, vi } from "vitest";
import type * as layout from "../../grammar/layout.ts";
import { parseDeclaration } from "../../grammar/parser.ts";
import { RightBrace } from "../../grammar/tokens.ts";

/** What the layout pass does to the tokens in this file only: it breaks its own promise, which nothing written in a text can make it do. */
let breakTokens: "none" | "unmatched" | "throw" = "none";

vi.mock("../../grammar/layout.ts", async (original) => {
  const real = await original<typeof layout>();
  return {
    ...real,
    layOut: (text: string, lexed: Parameters<typeof layout.layOut>[1]): layout.LaidOut => {
      const laidOut = real.layOut(text, lexed);
      if (breakTokens === "none") return laidOut;
      if (breakTokens === "throw") return { ...laidOut, tokens: new Proxy(laidOut.tokens, { get: () => { throw new Error("unforeseen"); } }) };
      return { ...laidOut, tokens: laidOut.tokens.map((token) => ({ ...token, tokenType: RightBrace, tokenTypeIdx: RightBrace.tokenTypeIdx as number })) };
    },
  };
});

it.each(["unmatched", "throw"] as const)("turns a failure that the parser did not foresee (%s) into one problem, with the text kept", (how) => {
  const text = "\nengine a { x: 1 } // why\n";
  breakTokens = how;
  const tree = parseDeclaration(text);
  breakTokens = "none";
  expect(tree.text).toBe(text);
  expect(tree.stray).toEqual([{ kind: "junk", span: { start: 1, end: 25 } }]);
  expect(tree.problems).toEqual([expect.objectContaining({ code: "syntax", span: { start: 1, end: 25 }, message: expect.stringMatching(/could not be read/) })]);
  expect(tree.comments.map((comment) => comment.text)).toEqual(["// why"]);
  expect(parseDeclaration(text).problems).toEqual([]);
});
