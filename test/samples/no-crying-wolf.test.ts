/**
 * What a good builder would learn to ignore is worse than nothing: on work that is right nothing is raised at warning or above. Right work is the
 * clean samples, the stories put right, files that slips are measured on beside them, and the engines of an open data set that do not contradict themselves.
 */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readSource } from "../../grammar/read.ts";
import type { Finding } from "../../server/rules/finding.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { projectFileOf } from "../../server/workspace/load.ts";
import { AS_OF, NAMES, ROOT, type Shelf, findingsIn, shelf, told } from "./shelf.ts";

/** The demonstration build and the stories as they went wrong are there to be found fault with. */
const FAULTY = /wren-hill-2\.tappet$|first-try\.tappet$/;
const CLEAN = NAMES.filter((name) => !FAULTY.test(name));

const alarming = (findings: readonly Finding[]) => findings.filter((f) => f.severity !== "advice");

function alarms(kept: Shelf, names: readonly string[]): readonly string[] {
  return names.flatMap((name) => alarming(findingsIn(kept, name)).map((f) => `${told(kept, f)}: ${f.message}`));
}

describe("nothing at warning or above is raised", () => {
  it("on the clean samples and on the stories put right", () => {
    expect(CLEAN.filter((name) => name.startsWith("stories/")).length).toBe(9);
    expect(alarms(shelf(), CLEAN)).toEqual([]);
  });

  it("on them as the years go by", () => {
    const { files } = shelf();
    for (const asOf of ["2028-03-01", "2030-01-01", "2040-06-30"]) {
      const analysis = analyse({ files, unreadable: new Map() }, asOf);
      expect(CLEAN.flatMap((name) => alarming(analysis.fileResult(ROOT + name)?.findings ?? []).map((f) => `${asOf} ${name}: ${f.rule} ${f.message}`))).toEqual([]);
    }
  });

  it("on them with every single length in millimetres written in inches", () => {
    let respelt = 0;
    const inches = shelf((_, text) =>
      text.replace(/(: )(\d*\.?\d+)( +)mm\b/g, (_whole, before: string, digits: string, space: string) => {
        respelt++;
        return `${before}${(Number(digits) / 25.4).toFixed(13)}${space}in`;
      }));
    expect(respelt).toBeGreaterThan(150);
    expect(alarms(inches, CLEAN)).toEqual([]);
  });

  it("on them with line ends of the other kind and a mark at the head of the file", () => {
    expect(alarms(shelf((_, text) => `\uFEFF${text.replaceAll("\n", "\r\n")}`), CLEAN)).toEqual([]);
  });

  it.each(["further", "held-out"])("on the %s files that slips are measured on", (kind) => {
    const folder = join(import.meta.dirname, "..", "slips", kind);
    const names = readdirSync(folder);
    expect(names.length).toBeGreaterThan(0);
    for (const name of names) {
      const uri = `file:///held-out/${name}`;
      const analysis = analyse({ files: new Map([[uri, projectFileOf(readSource(uri, readFileSync(join(folder, name), "utf8")))]]), unreadable: new Map() }, AS_OF);
      expect(alarming(analysis.fileResult(uri)?.findings ?? []).map((f) => `${name}: ${f.rule} ${f.message}`)).toEqual([]);
    }
  });
});
