/** All drawings of a sheet together: on real samples, with hostile text, and where nothing can be drawn. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawingsOf } from "../../server/drawings/index.ts";
import type { Drawing } from "../../server/drawings/drawing.ts";
import { sheetHtml } from "../../server/report/sheet-html.ts";
import { DUNLIN, RIDGEWAY, WREN } from "../sheet/samples.ts";
import { axeViolations, describeInBrowser, heard, showExport } from "../sheet-page/browser.ts";
import { SAMPLES, sampleSheet } from "../sheet-page/samples.ts";
import { expectWellMade, sourceOf } from "./picture.ts";

const all = (text: string): readonly Drawing[] => [...drawingsOf(sourceOf(text, "metric", true)).values()].flat();

describe.each(SAMPLES)("the drawings of samples/%s", (sample) => {
  it("are well made, and share no id with each other or the page", async () => {
    const model = await sampleSheet(sample);
    const drawings = model.sections.flatMap((s) => s.drawings);
    expect(drawings.length).toBeGreaterThan(0);
    drawings.forEach(expectWellMade);
    const ids = [...sheetHtml(model).matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
  });
});

it("puts each drawing into its section, in the order of the sheet", async () => {
  const sections = (await sampleSheet("builds/wren-hill-3")).sections.map((s) => [s.id, s.drawings.map((d) => d.id)]).filter(([, ids]) => ids?.length);
  expect(sections).toEqual([
    ["breathing", ["cycle"]],
    ["valve-gear", ["spring-stack-intake", "spring-stack-exhaust"]],
    ["lash", ["lash-deviations-intake", "lash-deviations-exhaust"]],
    ["fasteners", ["clamp-bands", "tightening-order-1", "tightening-order-2"]],
    ["running-in", ["running-in"]],
    ["runs-and-pulls", ["pull"]],
  ]);
});

it("draws the same bytes twice", async () => {
  const twice = [await sampleSheet("builds/wren-hill-3"), await sampleSheet("builds/wren-hill-3")].map((model) => model.sections.flatMap((s) => s.drawings));
  expect(twice[0]).toEqual(twice[1]);
});

/** Every piece of text that a file may bring onto a drawing, all of it hostile. */
const HOSTILE = `</desc><script>alert(1)</script>\u202e "' & <img src=x onerror=alert(1)>`;
const quoted = HOSTILE.replaceAll('"', "\u201d");
const hostileBuild = `${DUNLIN}${RIDGEWAY.replace('"Ridgeway 272"', `"${quoted}"`).replace('source: "cam card in the box"', 'source: "cam card in the box"; break-in: 1800 .. 2400 rpm for 20 min').replace('fastener cam-gear', `fastener ${"x".repeat(5000)}`)}${WREN}`
  .replace('numbering: "figure 6-12"', `numbering: "${quoted}"`)
  .replace("lash { intake", `measured lash cold on 2027-03-14 {
    | valve (mm) | <b>1 |    2 |
    | intake a   | 0.20 | 0.21 |
  }
  run "${quoted}" on 2027-03-20 { speed: 2000 rpm for 15 min }
  pull on 2027-05-02 { at: wheels; correction: none
    | rpm | torque (N·m) |
    | 3000 | 112 |
    | 5000 | 140 |
  }
  lash { intake`);

describe("hostile text", () => {
  const drawings = all(hostileBuild);

  it("stays text on every drawing that shows it", () => {
    expect(drawings.map((d) => d.id)).toEqual(expect.arrayContaining(["cycle", "lash-deviations-intake", "clamp-bands", "tightening-order-1", "running-in", "pull"]));
    drawings.forEach(expectWellMade);
    expect(drawings.some((d) => d.svg.includes("&lt;script&gt;"))).toBe(true);
    expect(drawings.some((d) => d.svg.includes("\u202e"))).toBe(false);
  });

  it("cannot make a label run on without end", () => {
    for (const { svg } of drawings) for (const [, words = ""] of svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)) expect(words.replace(/&[^;]+;/g, "x").length).toBeLessThan(60);
  });
});

it("draws nothing, and does not stumble, where there is little to draw", () => {
  expect(all("engine e { }")).toEqual([]);
  expect(all("build b on nowhere { }")).toEqual([]);
});

it("never prints a number that is none, whatever figures a file gives", () => {
  const number = fc.oneof(fc.constantFrom("0", "-1", "1e9", "0.0001", "9999999"), fc.double({ min: -500, max: 500, noNaN: true }).map((x) => x.toFixed(3)));
  fc.assert(
    fc.property(fc.array(number, { minLength: 9, maxLength: 9 }), ([lift, duration, seat, solid, wire, torque, rod, lash, place]) => {
      const text = DUNLIN.replace("rod-length: 138.5", `rod-length: ${rod}`).replace("seat-height: 38.0", `seat-height: ${seat}`).replace("solid-height: 27.4", `solid-height: ${solid}`).replace("wire: 3.8", `wire: ${wire}`)
        .replace("torque: 20 ± 2 N·m oiled;", `torque: ${torque} N·m oiled; positions { | bolt | x (mm) | y (mm) |\n| 5 | ${place} | 0 |\n}`) +
        RIDGEWAY.replace("duration: 236", `duration: ${duration}`).replace("lobe-lift: 7.10", `lobe-lift: ${lift}`) +
        WREN.replace("lash { intake: 0.20", `measured lash cold on 2027-03-14 { intake: ${lash} mm; exhaust: 0.3 mm }\nlash { intake: ${lash}`);
      all(text).forEach(expectWellMade);
    }),
    { numRuns: 150 },
  );
});

describeInBrowser("a sheet with its drawings", (browser) => {
  it("has every drawing read as well-formed, by its name and its words", async () => {
    const html = sheetHtml(await sampleSheet("builds/wren-hill-3"));
    const { page, troubles, close } = await showExport(browser(), html);
    const read = await page.evaluate(() =>
      [...document.querySelectorAll("figure > svg")].map((svg) => {
        const parsed = new DOMParser().parseFromString(new XMLSerializer().serializeToString(svg), "image/svg+xml");
        return { broken: parsed.querySelector("parsererror") !== null, title: svg.querySelector("title")?.textContent ?? "" };
      }));
    expect(read.length).toBe(10);
    expect(read.filter((one) => one.broken)).toEqual([]);
    const tree = await heard(page);
    for (const { title } of read) expect(tree).toContain(`image ${title}`);
    expect(await axeViolations(page)).toEqual([]);
    expect(troubles).toEqual([]);
    await close();
  });

  it.each([360, 900, 1600])("keeps every letter of its drawings on a page %i wide, and none over another", async (width) => {
    for (const sample of SAMPLES.filter((name) => name.startsWith("builds/"))) {
      const { page, close } = await showExport(browser(), sheetHtml(await sampleSheet(sample)), { viewport: { width, height: 900 } });
      const wrong = await page.evaluate(() => {
        const found: string[] = [];
        for (const svg of document.querySelectorAll("figure > svg")) {
          const texts = [...svg.querySelectorAll("text")].map((t) => ({ words: t.textContent ?? "", box: t.getBoundingClientRect() }));
          for (const { words, box } of texts) if (box.left < -0.5 || box.right > document.documentElement.clientWidth + 0.5) found.push(`off the page: ${words}`);
          texts.forEach((a, i) =>
            texts.slice(i + 1).forEach((b) => {
              const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
              const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
              // Boxes of letters have air around them: lines set close touch by a little.
              if (across > 1 && down > a.box.height * 0.35) found.push(`${svg.parentElement?.getAttribute("data-drawing")}: ${a.words} over ${b.words}`);
            }));
        }
        return found;
      });
      expect(wrong, sample).toEqual([]);
      await close();
    }
  });
});
