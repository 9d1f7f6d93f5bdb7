// The page in the sheet's panel: only what changed is touched, nothing a file says becomes more than text, every way into the file works.
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { renderSheetBody } from "../../server/report/sheet-html.ts";
import { WREN, sheetOf, uriOf } from "../report/wren.ts";
import { type Shown, axeViolations, describeInBrowser, send, showPanel } from "./browser.ts";

const BUILD = uriOf("wren.tappet");
const ENGINE = "engines/dunlin.tappet";

async function bodyOf(files: Readonly<Record<string, string>> = WREN): Promise<string> {
  return renderSheetBody((await sheetOf(files)).model, { links: "jump" });
}

/** The shop's files with something written otherwise. */
function rewritten(file: string, old: string, by: string): Readonly<Record<string, string>> {
  const text = WREN[file] ?? "";
  expect(text).toContain(old);
  return { ...WREN, [file]: text.replace(old, by) };
}

async function put(page: Page, html: string | null, builds: readonly string[] = ["wren-hill-2"]): Promise<void> {
  await send(page, { type: "sheet", uri: BUILD, build: builds[0] ?? null, html, builds, trial: null });
}

/** Notes from now on what the page touches under the sheet. */
async function watch(page: Page): Promise<void> {
  await page.evaluate(() => {
    window.touched = [];
    const nameOf = (node: Node): string => {
      const element = node instanceof Element ? node : node.parentElement;
      return element?.closest("[data-value]")?.getAttribute("data-value") ?? element?.closest("section")?.id ?? element?.tagName ?? "";
    };
    new MutationObserver((records) => {
      for (const { type, target, addedNodes, removedNodes } of records) window.touched.push(`${type} ${nameOf(target)} +${addedNodes.length} -${removedNodes.length}`);
    }).observe(document.getElementById("sheet") as HTMLElement, { subtree: true, childList: true, characterData: true, attributes: true });
  });
}

const touched = (page: Page): Promise<readonly string[]> => page.evaluate(() => window.touched);
const said = (page: Page) => page.evaluate(() => window.said.filter(({ type }) => type !== "ready"));

describeInBrowser("the page of the sheet's panel", (browser) => {
  async function withPanel(run: (shown: Shown) => Promise<void>, options?: Parameters<typeof showPanel>[1]): Promise<void> {
    const shown = await showPanel(browser(), options);
    try {
      await run(shown);
      expect(await shown.page.evaluate(() => window.refused)).toEqual([]);
      expect(shown.troubles).toEqual([]);
    } finally {
      await shown.close();
    }
  }

  test("figures that are tried stand above the sheet in words, with two buttons that a keyboard reaches first and that say what is meant", () =>
    withPanel(async ({ page }) => {
      const bar = { title: "Trial, not written: lash 0.20 mm → 0.22 mm <b>", lines: ["Two values read otherwise.", "Found then: a thing"], apply: "Apply", putBack: "Put back" };
      const html = await bodyOf();
      await send(page, { type: "sheet", uri: BUILD, build: "wren-hill-2", html, builds: ["wren-hill-2"], trial: bar });
      const region = page.getByRole("region", { name: "Trial" });
      expect((await region.innerText()).split(/\n+/)).toEqual([bar.title, ...bar.lines, "Apply Put back"]);
      await page.keyboard.press("Tab");
      await page.keyboard.press("Enter");
      expect(await said(page)).toEqual([{ type: "trial", end: "apply" }]);
      // Another step keeps the button that has the keyboard.
      await send(page, { type: "sheet", uri: BUILD, build: "wren-hill-2", html, builds: ["wren-hill-2"], trial: { ...bar, title: "Trial, not written: lash 0.20 mm → 0.23 mm" } });
      expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Apply");
      await page.getByRole("button", { name: "Put back" }).click();
      expect((await said(page)).at(-1)).toEqual({ type: "trial", end: "putBack" });
      expect(await axeViolations(page)).toEqual([]);
      await put(page, html);
      expect(await region.count()).toBe(0);
    }));

  test("a value that is gone for a moment comes back with its trace as it was left", () =>
    withPanel(async ({ page }) => {
      const whole = await bodyOf();
      const without = whole.replace(/<tbody data-value="piston-speed\.mean"[\s\S]*?<\/tbody>/, "");
      expect(without.length).toBeLessThan(whole.length);
      const trace = page.locator('details[data-trace="piston-speed.mean"]');
      const other = page.locator('details[data-trace="displacement.total"]');
      await put(page, whole);
      await trace.locator("summary").click();
      await put(page, without);
      expect(await trace.count()).toBe(0);
      // Another one that is opened meanwhile does not make it forgotten.
      await other.locator("summary").click();
      await put(page, whole);
      expect(await trace.getAttribute("open")).toBe("");
      expect(await other.getAttribute("open")).toBe("");
      // Closed by the reader it stays closed, however often it goes and comes.
      await trace.locator("summary").click();
      await put(page, without);
      await put(page, whole);
      expect(await trace.getAttribute("open")).toBeNull();
    }));

  test("the same sheet again touches nothing", () =>
    withPanel(async ({ page }) => {
      await put(page, await bodyOf());
      await watch(page);
      await put(page, await bodyOf());
      expect(await touched(page)).toEqual([]);
    }));

  test("another redline touches what rests on it, by its text alone, and nothing else", () =>
    withPanel(async ({ page }) => {
      await put(page, await bodyOf());
      await watch(page);
      await put(page, await bodyOf(rewritten(ENGINE, "redline: 6500 rpm", "redline: 6400 rpm")));
      const changes = await touched(page);
      expect(changes.length).toBeGreaterThan(0);
      expect(changes.filter((change) => !/^(characterData|attributes) /.test(change))).toEqual([]);
      expect(changes).toContain("characterData piston-speed.mean +0 -0");
      expect(changes.filter((change) => /displacement|lift|fastener|clamp|overlap/.test(change))).toEqual([]);
      // 2 x 0.082 m x 6400 / 60, worked out by hand.
      expect(await page.locator('[data-value="piston-speed.mean"] td.figure').innerText()).toBe("17.5 m/s");
    }));

  test("what the sheet shows after any change is what it would show if it were new", () =>
    withPanel(async ({ page }) => {
      const states = [
        WREN, rewritten("wren.tappet", "  fit ridgeway-272\n", ""), rewritten(ENGINE, "  cylinders: 4\n", ""), rewritten(ENGINE, "chamber: 44.6 cc; ", ""),
        rewritten("wren.tappet", "  plan {", "  lash { intake: 0.20 mm }\n  plan {"), rewritten("wren.tappet", "measured lash cold", "measured lash hot"), WREN,
      ];
      for (const state of states) {
        const html = await bodyOf(state);
        await put(page, html);
        const [shown, fresh] = await page.evaluate((text) => {
          const body = new DOMParser().parseFromString(text, "text/html").body;
          const sheet = document.getElementById("sheet") as HTMLElement;
          return [sheet.innerHTML, body.innerHTML];
        }, html);
        expect(shown).toBe(fresh);
      }
    }));

  test("scroll, focus and an opened trace stay when findings above them come and go", () =>
    withPanel(async ({ page }) => {
      await put(page, await bodyOf());
      const trace = page.locator('[data-trace="displacement.total"]');
      await trace.locator("summary").click();
      await trace.locator(".place").first().focus();
      const top = () => trace.evaluate((element) => Math.round(element.getBoundingClientRect().top));
      const before = await top();
      await put(page, await bodyOf(rewritten(ENGINE, "stroke: 82.00 mm", "stroke: 81.00 mm")));
      await put(page, await bodyOf(rewritten(ENGINE, "solid-height: 24.0 mm", "solid-height: 27.4 mm")));
      await put(page, await bodyOf());
      expect(await trace.evaluate((element) => (element as HTMLDetailsElement).open)).toBe(true);
      expect(await page.evaluate(() => document.activeElement?.closest("[data-trace]")?.getAttribute("data-trace"))).toBe("displacement.total");
      expect(await top()).toBe(before);
    }));

  test("a page that was hidden comes back scrolled and opened as it was", () =>
    withPanel(async ({ page }) => {
      const html = await bodyOf();
      await put(page, html);
      await page.locator('[data-trace="overlap"] summary').click();
      const kept = () => page.evaluate(() => JSON.parse(sessionStorage.getItem("kept") ?? "{}") as { opened?: string[]; scroll?: number });
      // Pressing it has scrolled it into view.
      await expect.poll(async () => (await kept()).opened).toEqual(["overlap"]);
      await page.waitForFunction(() => window.scrollY > 0 && (JSON.parse(sessionStorage.getItem("kept") ?? "{}") as { scroll?: number }).scroll === window.scrollY);
      const scroll = await page.evaluate(() => window.scrollY);
      await page.reload();
      await page.waitForFunction(() => window.said.some(({ type }) => type === "ready"));
      await put(page, html);
      expect(await page.locator('[data-trace="overlap"]').evaluate((e) => (e as HTMLDetailsElement).open)).toBe(true);
      expect(await page.evaluate(() => window.scrollY)).toBe(scroll);
    }));

  test("a sheet whose file declares nothing any more says so, and comes back", () =>
    withPanel(async ({ page }) => {
      await put(page, await bodyOf());
      await put(page, null, []);
      expect(await page.locator("#sheet").innerText()).toBe("Nothing yet.");
      await put(page, await bodyOf());
      expect(await page.locator("h1").innerText()).toBe("Wren hill-climb car, second season");
    }));

  test("a figure, a place and a fix say what they lead to, by pointer and by keyboard", () =>
    withPanel(async ({ page }) => {
      await put(page, await bodyOf(rewritten("wren.tappet", '  waive need-unmet because "retainers are on the bench, card to follow" until 2027-09-01\n', "")));
      await page.locator('[data-value="displacement.total"] button.go').click();
      await page.locator('[data-finding="0"] .place').first().press("Enter");
      await page.locator("[data-fix]").first().press("Space");
      const [figure, place, fix] = await said(page);
      expect(figure).toEqual({ type: "open", uri: uriOf(ENGINE), line: 5, column: 9 });
      expect(place).toMatchObject({ type: "open", uri: BUILD });
      expect(fix).toEqual({ type: "fix", finding: expect.stringMatching(/^\d+$/) as string, fix: 0 });
    }));

  test("everything that can be pressed is reached by the tab key, in the order it is read", () =>
    withPanel(async ({ page }) => {
      await put(page, await bodyOf());
      const expected = await page.evaluate(() => [...document.querySelectorAll("a, button, summary, [tabindex]")].filter((e) => (e as HTMLElement).checkVisibility() && !e.closest("details:not([open]) > :not(summary)")).length);
      await page.locator("h1").click();
      const tops: number[] = [];
      for (let i = 0; i < expected; i++) {
        await page.keyboard.press("Tab");
        const top = await page.evaluate(() => {
          const { activeElement } = document;
          return activeElement && activeElement !== document.body ? activeElement.getBoundingClientRect().top + window.scrollY : -1;
        });
        expect(top).toBeGreaterThanOrEqual(0);
        tops.push(top);
      }
      // A summary hangs in the margin of its row, a few pixels above the figure beside it.
      for (const [i, top] of tops.entries()) expect(top).toBeGreaterThanOrEqual((tops[i - 1] ?? 0) - 40);
    }));

  test("the caret's line marks the rows that rest on it and no others, and the mark outlives an update", () =>
    withPanel(async ({ page }) => {
      await put(page, await bodyOf());
      const marked = () => page.locator('[data-value][aria-current="true"]').evaluateAll((rows) => rows.map((row) => row.getAttribute("data-value")));
      await send(page, { type: "mark", uri: uriOf(ENGINE), line: 7 });
      const onRod = await marked();
      expect(onRod).toContain("rod-ratio");
      expect(onRod).not.toContain("displacement.total");
      await put(page, await bodyOf());
      expect(await marked()).toEqual(onRod);
      await send(page, { type: "mark", uri: uriOf(ENGINE), line: 1 });
      expect(await marked()).toEqual([]);
    }));

  test("a file with several builds offers them by name", () =>
    withPanel(async ({ page }) => {
      await put(page, await bodyOf());
      expect(await page.locator("#builds").isVisible()).toBe(false);
      await put(page, await bodyOf(), ["wren-hill-2", "wren-hill-3"]);
      await page.getByRole("group", { name: "Builds of this file" }).getByRole("button", { name: "wren-hill-3" }).click();
      expect(await said(page)).toEqual([{ type: "build", build: "wren-hill-3" }]);
      expect(await page.getByRole("button", { name: "wren-hill-2" }).getAttribute("aria-pressed")).toBe("true");
    }));

  const HOSTILE: Readonly<Record<string, string>> = {
    "markup with a handler": "<img src=x onerror=window.caught=1>",
    "a script": "</title><script>window.caught=1</script>",
    "a style": "<style>body{display:none}</style>",
    "a link": "<a href='javascript:window.caught=1'>press</a>",
    "an end of everything": "--></details></table></main></body></html>",
    "ten thousand letters": "W".repeat(10_000),
    "a turn of direction": "\u202eabc\u2066def",
    "Arabic": "مشروع",
  };
  for (const [kind, title] of Object.entries(HOSTILE))
    test(`${kind} as a title stays text`, () =>
      withPanel(async ({ page }) => {
        const plain = await bodyOf();
        const files = Object.fromEntries(Object.entries(WREN).map(([file, text]) => [file, text.replaceAll('"Ridgeway 272"', () => JSON.stringify(title)).replaceAll('"Wren hill-climb car, second season"', () => JSON.stringify(title))]));
        await put(page, plain);
        const shape = () => page.evaluate(() => [...document.querySelectorAll("#sheet *:not(bdi)")].map(({ tagName }) => tagName).join(" "));
        const before = await shape();
        await put(page, await bodyOf(files));
        expect(await shape()).toBe(before);
        expect(await page.evaluate(() => "caught" in window)).toBe(false);
        const heading = await page.locator("h1").innerText();
        expect(heading).toBe(title.replace("\u202e", "⟨U+202E⟩").replace("\u2066", "⟨U+2066⟩"));
        expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
      }));

  test("the checker finds nothing against it, on a wide pane and a narrow one", () =>
    withPanel(async ({ page }) => {
      // The colours that a light theme hands to its pages.
      const theme = { "editor-background": "#ffffff", "editor-foreground": "#3b3b3b", descriptionForeground: "#3b3b3b", "editorWidget-background": "#f8f8f8", "editorWidget-border": "#c8c8c8", "textLink-foreground": "#005fb8", focusBorder: "#005fb8", "editorError-foreground": "#e51400", "editorWarning-foreground": "#bf8803" };
      await page.evaluate((colours) => {
        for (const [name, colour] of Object.entries(colours)) document.documentElement.style.setProperty(`--vscode-${name}`, colour);
      }, theme);
      await put(page, await bodyOf());
      await send(page, { type: "mark", uri: uriOf(ENGINE), line: 7 });
      await page.locator('[data-trace="displacement.total"] summary').click();
      for (const width of [360, 1200]) {
        await page.setViewportSize({ width, height: 800 });
        expect(await axeViolations(page)).toEqual([]);
      }
    }));
});
