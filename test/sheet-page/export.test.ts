// The exported sheet as people open it: phone, laptop, wide screen and paper; light, dark and high contrast; by eye, by ear and by keyboard.
// Every sample is photographed into out/screenshots/ for somebody to look at.
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import type { BrowserContextOptions } from "playwright-core";
import { expect, test } from "vitest";
import { sheetHtml } from "../../server/report/sheet-html.ts";
import { axeViolations, describeInBrowser, heard, showExport } from "./browser.ts";
import { SAMPLES, sampleSheet } from "./samples.ts";

const shots = join(import.meta.dirname, "..", "..", "out", "screenshots");
const WIDTHS = [360, 900, 1600] as const;
const LOOKS: Readonly<Record<string, BrowserContextOptions>> = { light: { colorScheme: "light" }, dark: { colorScheme: "dark" }, "high contrast": { forcedColors: "active" } };
/** The sample with the most to say: findings, a waiver, limits that are short, spreads, tables of every shape. */
const FULL = "builds/wren-hill-2";

describeInBrowser("an exported sheet", (browser) => {
  for (const sample of SAMPLES)
    test(`of ${sample} fits a phone, a laptop and a wide screen, and prints`, async () => {
      mkdirSync(shots, { recursive: true });
      const name = sample.replaceAll("/", "-");
      const { page, troubles, close } = await showExport(browser(), sheetHtml(await sampleSheet(sample)));
      try {
        for (const width of WIDTHS) {
          await page.setViewportSize({ width, height: 900 });
          expect(await page.evaluate(() => document.documentElement.scrollWidth), `the width of the page at ${width}`).toBe(width);
          // Nothing sticks out of the page, save inside a table that can be scrolled for it.
          const outside = await page.evaluate(() =>
            [...document.querySelectorAll(".sheet *:not(.wide *, .hidden)")].filter((e) => (e as HTMLElement).checkVisibility()).filter((e) => e.getBoundingClientRect().right > window.innerWidth + 0.5).map((e) => e.outerHTML.slice(0, 120)));
          expect(outside, `what sticks out at ${width}`).toEqual([]);
          await page.screenshot({ path: join(shots, `${name}-${width}.png`), fullPage: true });
        }
        // What is wider than the paper makes the browser print everything smaller: nothing may be. A4 between margins of 15 mm is 180 mm wide.
        await page.emulateMedia({ media: "print" });
        await page.setViewportSize({ width: Math.floor((180 / 25.4) * 96), height: 900 });
        const wide = await page.evaluate(() => [...document.querySelectorAll(".sheet *:not(.hidden)")].filter((e) => (e as HTMLElement).checkVisibility() && e.getBoundingClientRect().right > window.innerWidth + 0.5).map((e) => e.outerHTML.slice(0, 120)));
        expect(wide, "what is wider than the paper").toEqual([]);
        await page.emulateMedia({ media: null });
        await page.pdf({ path: join(shots, `${name}-a4.pdf`), format: "A4" });
        await page.pdf({ path: join(shots, `${name}-letter.pdf`), format: "Letter" });
        expect(troubles).toEqual([]);
      } finally {
        await close();
      }
    });

  for (const [look, options] of Object.entries(LOOKS))
    test(`has nothing held against it by the checker in ${look}, traces opened, narrow and wide`, async () => {
      const { page, troubles, close } = await showExport(browser(), sheetHtml(await sampleSheet(FULL)), options);
      try {
        await page.evaluate(() => {
          for (const details of document.querySelectorAll("details")) details.open = true;
        });
        for (const width of [360, 1200]) {
          await page.setViewportSize({ width, height: 900 });
          expect(await axeViolations(page)).toEqual([]);
        }
        expect(troubles).toEqual([]);
        mkdirSync(shots, { recursive: true });
        await page.screenshot({ path: join(shots, `look-${look.replace(" ", "-")}.png`) });
      } finally {
        await close();
      }
    });

  test("is read out as headings, tables with named rows, and lists, on a phone too", async () => {
    const { page, close } = await showExport(browser(), sheetHtml(await sampleSheet(FULL)));
    try {
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 900 });
        const words = await heard(page);
        expect(words).toMatch(/^ *heading Bottom end$/m);
        expect(words).toMatch(/^ *table Bottom end: values$/m);
        expect(words).toMatch(/^ *columnheader Figure$/m);
        expect(words).toMatch(/^ *row\n *rowheader Displacement\n.*\n *cell 1775 cc\n.*\n *cell 108\.3 cu-in$/m);
        expect(words).toMatch(/^ *DisclosureTriangle How Displacement was worked out$/m);
        expect(words).toMatch(/^ *navigation On this sheet$/m);
      }
    } finally {
      await close();
    }
  });

  test("opens a trace by keyboard, and the list of sections leads to each", async () => {
    const { page, close } = await showExport(browser(), sheetHtml(await sampleSheet(FULL)));
    try {
      await page.locator('[data-trace="displacement.total"] summary').press("Enter");
      expect(await page.locator('[data-trace="displacement.total"]').innerText()).toContain("83.00 mm");
      for (const link of await page.locator("nav a").all()) {
        const target = await link.getAttribute("href");
        expect(await page.locator(`section${target}`).count(), `sections at ${target}`).toBe(1);
      }
      await page.locator("nav a", { hasText: "Fasteners" }).press("Enter");
      expect(await page.locator("section#fasteners").evaluate((e) => Math.abs(e.getBoundingClientRect().top) < 1)).toBe(true);
    } finally {
      await close();
    }
  });

  test("on paper shows what could not be worked out, and leaves out what only a screen can do", async () => {
    const { page, close } = await showExport(browser(), sheetHtml(await sampleSheet(FULL)));
    try {
      await page.emulateMedia({ media: "print" });
      expect(await page.locator("nav").isVisible()).toBe(false);
      expect(await page.locator(".missing li").first().evaluate((e) => e.getBoundingClientRect().height)).toBeGreaterThan(0);
      expect(await page.locator(".how").first().isVisible()).toBe(false);
      const colours = await page.locator("body").evaluate((e) => [getComputedStyle(e).color, getComputedStyle(e).backgroundColor]);
      expect(colours).toEqual(["rgb(0, 0, 0)", "rgb(255, 255, 255)"]);
    } finally {
      await close();
    }
  });
});
