/**
 * What no suite can show from inside, because it would go with the window: a sheet outlives the window's being loaded again. Works at
 * the page alone, as a person does; knows nothing of how a suite is run.
 */
import type { Result } from "./exchange.ts";
import { steps } from "./hands.ts";
import type { Workbench } from "./workbench.ts";

export const reloadTest = "a sheet outlives the window's being loaded again, with its scroll and its opened trace";

export async function testReload(workbench: Workbench, shots: string): Promise<Result> {
  const { page, talk } = workbench;
  const bench = { page, shots, talk };
  const heading = "#sheet h1";
  const trace = '#sheet details[data-trace="displacement.total"]';
  try {
    await workbench.reopen();
    await page.keyboard.press("Control+P");
    const input = page.locator(".quick-input-widget input").first();
    await input.waitFor({ state: "visible" });
    await input.fill("wren-hill-3.tappet");
    await page.locator(".quick-input-list .monaco-list-row").filter({ hasText: "wren-hill-3.tappet" }).first().click();
    // A file that was open before is shown where it was left, so nothing certain of its text is in sight.
    await page.locator(".tab.active").filter({ hasText: "wren-hill-3.tappet" }).first().waitFor({ state: "visible" });
    await steps.focusEditor(bench);
    await steps.runCommand(bench, "Tappet: Show the build sheet beside the file");
    await steps.readSheet(bench, heading);
    await steps.openTrace(bench, trace);
    await steps.readSheet(bench, `${trace}[open]`);
    await steps.scrollSheet(bench, heading, 900);
    // The window's own way of being loaded again, in which the editor writes down what was open.
    const loaded = page.waitForEvent("load");
    await steps.runCommand(bench, "Developer: Reload Window");
    await loaded;
    const [title] = await steps.readSheet(bench, heading);
    if (title !== "Wren hill-climb car, third season") return { name: reloadTest, state: "failed", why: `The sheet's heading is ${JSON.stringify(title)}.` };
    await steps.readSheet(bench, `${trace}[open]`);
    const scroll = await steps.sheetScroll(bench, heading);
    if (Math.abs(scroll - 900) > 2) return { name: reloadTest, state: "failed", why: `The sheet is scrolled to ${scroll}, and was to 900.` };
    return { name: reloadTest, state: "passed" };
  } catch (error) {
    await steps.photograph(bench, "failed-reload").catch(() => undefined);
    return { name: reloadTest, state: "failed", why: String(error instanceof Error ? error.message : error) };
  }
}
