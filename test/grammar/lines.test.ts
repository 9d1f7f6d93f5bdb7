/** Line starts that are carried over from text to text are those of the text read anew. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { readSource } from "../../grammar/read.ts";
import { lineStarts, lineStartsOf } from "../../grammar/source-file.ts";

const WRITTEN = ["", "\n", "\r", "\r\n", "x", "\nengine a {\n}\n", "\r\npart b {\r\n}\r\n", "engine c { }", "/*", "*/", "// d\n", "{", "}", "\rbuild e {\r}\r", "\u2028"];
const edit = fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), cut: fc.nat(12), text: fc.constantFrom(...WRITTEN) });

test("line starts after any edits are those of the text", () => {
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 40 }), (edits) => {
      let file = readSource("a", "engine a {\n  bore: 1 mm\n}\r\n\r\npart b for a {\r}\r// e\rbuild c on a {\n}\n");
      for (const { at, cut, text } of edits) {
        const from = Math.floor(at * file.text.length);
        expect(lineStartsOf(file)).toEqual(lineStarts(file.text));
        file = readSource("a", file.text.slice(0, from) + text + file.text.slice(from + cut), file);
      }
      expect(lineStartsOf(file)).toEqual(lineStarts(file.text));
    }),
    { seed: 20270317, numRuns: 2000 },
  );
});
