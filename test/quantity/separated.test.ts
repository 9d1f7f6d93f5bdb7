/** Text parted by commas, semicolons or tabs: rows, figures and headings, against the cases of RFC 4180 and of spreadsheets with decimal commas. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { figureIn, headOf, readSeparated } from "../../server/quantity/separated.ts";

const cells = (text: string) => readSeparated(text).rows.map((row) => row.cells);

describe("rows", () => {
  it("are cut as RFC 4180 says: quotes, doubled quotes, line ends inside quotes", () => {
    expect(cells('aaa,bbb\r\nzzz,yyy\r\n')).toEqual([["aaa", "bbb"], ["zzz", "yyy"]]);
    expect(cells('"aaa","b""bb","c,c"\r\n1,2,3')).toEqual([["aaa", 'b"bb', "c,c"], ["1", "2", "3"]]);
    expect(readSeparated('"a\r\na",b\r\n1,2').rows).toEqual([{ cells: ["a\r\na", "b"], line: 1 }, { cells: ["1", "2"], line: 3 }]);
  });
  it("are parted by what parts the first line", () => {
    expect(readSeparated("a;b\n1,5;2,5")).toMatchObject({ delimiter: ";", decimal: "," });
    expect(readSeparated("a\tb\n1,5\t2")).toMatchObject({ delimiter: "\t", decimal: "," });
    expect(readSeparated("a,b\n1,5")).toMatchObject({ delimiter: ",", decimal: "." });
    expect(readSeparated("a;b\n1.5;2")).toMatchObject({ delimiter: ";", decimal: "." });
  });
  it("leave blank lines and remarks out and keep the count of lines", () => {
    expect(readSeparated("# from the machine\n\na,b\n,\n1,2").rows).toEqual([{ cells: ["a", "b"], line: 3 }, { cells: ["1", "2"], line: 5 }]);
  });
  it("end at the bound, and say so", () => {
    expect(readSeparated("a,b\n1,2\n3,4\n5,6", 3)).toMatchObject({ cut: true, rows: { length: 3 } });
    expect(readSeparated("a,b\n1,2\n3,4", 3)).toMatchObject({ cut: false });
  });
  it("come of any text whatever", () => {
    fc.assert(fc.property(fc.string({ unit: "binary" }), (text) => readSeparated(text, 50).rows.every((row) => row.cells.length > 0)));
  });
});

describe("figures", () => {
  it("have one decimal mark, the one of their text", () => {
    expect(["7", "-7.25", ".5", "+1.", "1e-3", "−2.5"].map((text) => figureIn(text, "."))).toEqual([7, -7.25, 0.5, 1, 0.001, -2.5]);
    expect(["7", "-7,25", ",5"].map((text) => figureIn(text, ","))).toEqual([7, -7.25, 0.5]);
  });
  it("are no words, thousands, units, or both marks at once", () => {
    expect(["", "-", "x", "1,234.5", "7 mm", "0x10", "1e999", "Infinity", "NaN"].map((text) => figureIn(text, "."))).toEqual(Array.from({ length: 9 }, () => undefined));
    expect(["1.234,5", "7.5"].map((text) => figureIn(text, ","))).toEqual([undefined, undefined]);
  });
  it("come back as they were written", () => {
    fc.assert(fc.property(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e6, max: 1e6 }), (x) => {
      const text = x.toFixed(6);
      expect(figureIn(text, ".")).toBe(Number(text));
      expect(figureIn(text.replace(".", ","), ",")).toBe(Number(text));
    }));
  });
});

it("headings are read with or without brackets", () => {
  for (const text of ["lift (mm at lobe)", "lift [mm at lobe]", "lift mm at lobe", "lift_mm_at_lobe"]) expect(headOf(text).words).toEqual(["lift", "mm", "at", "lobe"]);
});
