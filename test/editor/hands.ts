/**
 * What a person does at the editor's page, driven by Playwright: keys, the pointer, the palette, a look into a webview. Each
 * step waits for what it needs to be there and gives back plain data. Knows nothing of the extension host.
 *
 * A suite calls these by name across the exchange (see host.ts); adding a function here is all it takes to add one.
 */
import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import type { Frame, Locator, Page } from "playwright-core";

/** The page, the folder that photographs go to, and what the page and the server have said so far. */
export type Bench = { readonly page: Page; readonly shots: string; readonly talk: readonly string[] };

/** How long a step waits for something to appear before it counts as failed: a bound, never a pause. */
const patience = 60_000;

export const steps = {
  /** Types into whatever has the focus, key by key. */
  async type({ page }: Bench, text: string): Promise<void> {
    await page.keyboard.type(text);
  },

  /** Presses keys one after another, as Playwright spells them: "Control+Space", "F12", "Control+K Z". */
  async press({ page }: Bench, keys: string): Promise<void> {
    for (const key of keys.split(" ")) await page.keyboard.press(key);
  },

  /** Clicks into the text of the first editor that shows, so that keys reach it. */
  async focusEditor({ page }: Bench): Promise<void> {
    await page.locator(".editor-group-container .monaco-editor .view-lines").first().click({ timeout: patience });
  },

  /** Clicks the first place in the text that reads `text`. */
  async clickText({ page }: Bench, text: string): Promise<void> {
    const { x, y } = await placeInEditor(page, text);
    await page.mouse.click(x, y);
  },

  /** Runs a command from the palette by its full title ("Tappet: Open build sheet"), as a person who doesn't know the keys would. */
  async runCommand({ page }: Bench, title: string): Promise<void> {
    await page.keyboard.press("F1");
    const input = page.locator(".quick-input-widget input").first();
    await input.waitFor({ state: "visible", timeout: patience });
    await input.fill(`>${title}`);
    const row = page.locator(".quick-input-list .monaco-list-row").filter({ hasText: title }).first();
    await row.click({ timeout: patience });
  },

  /**
   * Rests the pointer on the first place that reads `text`, and reads the hover that appears. A lens or a hint that arrives late moves the
   * text away from under the pointer; then, as a person would, it looks again where the text is and comes to rest there.
   */
  async hover({ page }: Bench, text: string): Promise<string> {
    const hover = page.locator(".monaco-hover:not(.hidden)").filter({ has: page.locator(".hover-contents") }).first();
    const attempts = 6;
    for (let attempt = 1; ; attempt += 1) {
      await page.mouse.move(1, 1);
      const { x, y } = await placeInEditor(page, text);
      await page.mouse.move(x - 1, y);
      await page.mouse.move(x, y);
      try {
        await hover.waitFor({ state: "visible", timeout: patience / attempts });
        return (await hover.innerText()).trim();
      } catch (trouble) {
        if (attempt === attempts) throw trouble;
      }
    }
  },

  /** Presses a key for a menu until it stands open: one that opens while the text is still being read anew is closed by that. */
  async pressFor({ page }: Bench, key: string, selector: string): Promise<void> {
    const attempts = 8;
    for (let attempt = 1; ; attempt += 1) {
      await page.keyboard.press(key);
      try {
        await page.locator(selector).first().waitFor({ state: "visible", timeout: patience / attempts });
        return;
      } catch (trouble) {
        if (attempt === attempts) throw trouble;
      }
    }
  },

  /** Reads the labels of the suggestion list once it shows one that contains `label`. */
  async suggestions({ page }: Bench, label: string): Promise<string[]> {
    const rows = page.locator(".suggest-widget.visible .monaco-list-row");
    await rows.filter({ hasText: label }).first().waitFor({ state: "visible", timeout: patience });
    return (await rows.locator(".label-name").allInnerTexts()).map((text) => text.trim());
  },

  /** Clicks the first thing in the workbench itself (not in a webview) that matches a selector, once it is there. */
  async clickPage({ page }: Bench, selector: string): Promise<void> {
    await page.locator(selector).first().click({ timeout: patience });
  },

  /** The text of everything in the workbench itself (not in webviews) that matches a selector, once there is one. */
  async readPage({ page }: Bench, selector: string): Promise<string[]> {
    const found = page.locator(selector);
    await found.first().waitFor({ state: "attached", timeout: patience });
    return found.allInnerTexts();
  },

  /** The text of everything in a webview that matches a selector, once a webview shows one. */
  async readSheet({ page }: Bench, selector: string): Promise<string[]> {
    const { locator } = await findInWebview(page, selector);
    return locator.allInnerTexts();
  },

  /** How many things match `counted` in the webview that shows `selector`; none is an answer. */
  async countOnSheet({ page }: Bench, selector: string, counted: string): Promise<number> {
    const { frame } = await findInWebview(page, selector);
    return frame.locator(counted).count();
  },

  /** An attribute of the first thing in a webview that matches a selector. */
  async readSheetAttribute({ page }: Bench, selector: string, attribute: string): Promise<string | null> {
    const { locator } = await findInWebview(page, selector);
    return locator.first().getAttribute(attribute);
  },

  /** Clicks the first thing in a webview that matches a selector. */
  async clickSheet({ page }: Bench, selector: string): Promise<void> {
    const { locator } = await findInWebview(page, selector);
    await locator.first().click({ timeout: patience });
  },

  /** Opens the trace that matches a selector: clicks its mark until it stands open, as the page may be put in anew between looking and clicking. */
  async openTrace({ page }: Bench, selector: string): Promise<void> {
    const attempts = 6;
    for (let attempt = 1; ; attempt += 1) {
      const { frame } = await findInWebview(page, selector);
      const trace = frame.locator(selector).first();
      try {
        if ((await trace.getAttribute("open", { timeout: patience / attempts })) === null) await trace.locator("summary").click({ timeout: patience / attempts });
        await frame.locator(`${selector}[open]`).first().waitFor({ state: "attached", timeout: patience / attempts });
        return;
      } catch (trouble) {
        if (attempt === attempts) throw trouble;
      }
    }
  },

  /** Gives the keyboard to the first thing in a webview that matches a selector, then presses a key there. */
  async pressInSheet({ page }: Bench, selector: string, keys: string): Promise<void> {
    const { locator } = await findInWebview(page, selector);
    await locator.first().press(keys, { timeout: patience });
  },

  /** How far a webview that holds `selector` is scrolled, in CSS pixels. */
  async sheetScroll({ page }: Bench, selector: string): Promise<number> {
    const { frame } = await findInWebview(page, selector);
    return frame.evaluate(() => document.scrollingElement?.scrollTop ?? 0);
  },

  /** Scrolls a webview that holds `selector`, and waits for it to have come there. */
  async scrollSheet({ page }: Bench, selector: string, top: number): Promise<void> {
    const { frame } = await findInWebview(page, selector);
    await frame.evaluate(
      (to) =>
        new Promise<void>((there) => {
          document.addEventListener("scrollend", () => there(), { once: true, capture: true });
          window.scrollTo({ top: to, behavior: "instant" });
        }),
      top,
    );
  },

  /** What the accessibility checker holds, by WCAG 2.2 AA, against the page of the webview that shows `selector`. */
  async checkSheet({ page }: Bench, selector: string): Promise<string[]> {
    const { frame } = await findInWebview(page, selector);
    await frame.evaluate(readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8"));
    return frame.evaluate(async () => {
      const { axe } = window as unknown as { axe: typeof import("axe-core") };
      const { violations } = await axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] });
      return violations.flatMap(({ id, nodes }) => nodes.map(({ html, any }) => `${id}: ${html.slice(0, 160)} ${any.map((check) => check.message).join("; ")}`));
    });
  },

  /** What the consoles of the page and its frames have said, as far as it matches a pattern. */
  async consoleLines({ talk }: Bench, pattern: string): Promise<string[]> {
    const wanted = new RegExp(pattern, "i");
    return talk.filter((line) => line.startsWith("page ") && wanted.test(line));
  },

  /** Photographs the whole window into out/editor/. */
  async photograph({ page, shots }: Bench, name: string): Promise<string> {
    mkdirSync(shots, { recursive: true });
    const path = join(shots, `${name}.png`);
    await settle(page);
    await page.screenshot({ path });
    return path;
  },

  /** Photographs the part of a webview that matches a selector into out/editor/. */
  async photographSheet({ page, shots }: Bench, selector: string, name: string): Promise<string> {
    mkdirSync(shots, { recursive: true });
    const path = join(shots, `${name}.png`);
    const { locator } = await findInWebview(page, selector);
    await locator.first().screenshot({ path, timeout: patience });
    return path;
  },

  /** Makes the window another size, in CSS pixels: a phone, a laptop. */
  async resize({ page }: Bench, width: number, height: number): Promise<void> {
    await page.setViewportSize({ width, height });
  },

  /** The process that runs this file, which no other session's process does; nothing while none does. */
  processOf(_: Bench, file: string): Promise<number | null> {
    return Promise.resolve(processRunning(file) ?? null);
  },

  /** Ends the process that runs this file without a word, as a system short of memory does, and says which it was. */
  killProcessOf(_: Bench, file: string): Promise<number> {
    const pid = processRunning(file);
    if (pid === undefined) throw new Error(`No process runs ${file}.`);
    process.kill(pid, "SIGKILL");
    return Promise.resolve(pid);
  },
};

function processRunning(file: string): number | undefined {
  const all = execFileSync("ps", ["-A", "-o", "pid=,args="], { encoding: "utf8", maxBuffer: 16 * 1024 * 1024 }).split("\n");
  return all.map((line) => /^ *(\d+) (.*)$/.exec(line)).flatMap((found) => (found?.[2]?.includes(file) ? [Number(found[1])] : []))[0];
}

type Rest<F> = F extends (bench: Bench, ...rest: infer R) => infer V ? (...rest: R) => V : never;

/** The same steps as a suite sees them, without the bench. */
export type Hands = { readonly [K in keyof typeof steps]: Rest<(typeof steps)[K]> };

/** Waits for what fades or slides to have arrived; what moves for ever, such as the caret, is let be. */
async function settle(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const passing = document.getAnimations().filter(({ effect }) => effect?.getComputedTiming().endTime !== Infinity);
    await Promise.allSettled(passing.map(({ finished }) => finished));
  });
}

/** Where the first place that reads `text` stands on the screen, once an editor shows it; the text may run over several colours. */
async function placeInEditor(page: Page, text: string): Promise<{ readonly x: number; readonly y: number }> {
  const place = await page.waitForFunction(
    (wanted) => {
      const lines = [...document.querySelectorAll(".editor-group-container .monaco-editor .view-line")];
      const topOf = (line: Element): number => line.getBoundingClientRect().top;
      for (const line of lines.toSorted((a, b) => topOf(a) - topOf(b))) {
        // The editor draws a space as one that does not break.
        const at = (line.textContent ?? "").replaceAll("\u00a0", " ").indexOf(wanted);
        if (at < 0) continue;
        const range = document.createRange();
        const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
        let before = 0;
        for (let node = walker.nextNode(); node; node = walker.nextNode()) {
          const length = node.textContent?.length ?? 0;
          if (at >= before && at < before + length) range.setStart(node, at - before);
          if (at + wanted.length <= before + length) {
            range.setEnd(node, at + wanted.length - before);
            break;
          }
          before += length;
        }
        const { left, right, top, bottom } = range.getBoundingClientRect();
        return { x: (left + right) / 2, y: (top + bottom) / 2 };
      }
      return undefined;
    },
    text,
    { timeout: patience },
  );
  const found = await place.jsonValue();
  if (!found) throw new Error(`No editor shows "${text}".`);
  return found;
}

/** A webview's content is a frame in a frame, made anew whenever it is shown; so look again at each change of the frames. */
async function findInWebview(page: Page, selector: string): Promise<{ readonly frame: Frame; readonly locator: Locator }> {
  const until = Date.now() + patience;
  while (Date.now() < until) {
    for (const frame of page.frames()) {
      if (frame === page.mainFrame()) continue;
      const locator = frame.locator(selector);
      // A frame may be gone between being listed and being asked, and one that is going or coming may never answer: the others are asked all the same.
      const count = await Promise.race([locator.count().catch(() => 0), setTimeout(patience / 60, 0)]);
      if (count > 0) return { frame, locator };
    }
    await page.evaluate(() => new Promise((next) => requestAnimationFrame(next)));
  }
  const shown = await Promise.all(page.frames().filter((frame) => frame !== page.mainFrame()).map((frame) => Promise.race([frame.locator("body").innerText().catch(() => "gone"), setTimeout(patience / 60, "no answer")])));
  throw new Error(`No webview showed "${selector}" within ${patience / 1000} s; the frames there show ${JSON.stringify(shown.map((text) => text.slice(0, 200)))}.`);
}
