/** Chromium for the tests of the sheet: pages without a network, and the accessibility checker. Knows the sheet's two forms, no engine. */
import { randomBytes } from "node:crypto";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { build } from "esbuild";
import { type Browser, type BrowserContextOptions, type Page, chromium } from "playwright-core";
import { afterAll, beforeAll, describe } from "vitest";
import type { FromPage, ToPage } from "../../client/sheet-messages.ts";
import { sheetPage } from "../../client/sheet-page-html.ts";
import { findBrowser } from "../editor/machine.ts";

const root = join(import.meta.dirname, "..", "..");
const executablePath = findBrowser();

declare global {
  interface Window {
    /** What the page said to the editor. */
    said: FromPage[];
    /** What the page's policy refused. */
    refused: string[];
    /** Nodes that were put in, taken out or changed since it was emptied. */
    touched: string[];
  }
}

/** Tests in a browser. Without one they count as skipped on a person's machine and fail where CI is set. */
export function describeInBrowser(name: string, body: (browser: () => Browser) => void): void {
  if (!executablePath && !process.env["CI"]) {
    describe.skip(`${name} (needs a Chromium browser)`, () => body(() => Object() as Browser));
    return;
  }
  describe(name, () => {
    let browser: Browser | undefined;
    beforeAll(async () => {
      browser = await chromium.launch({
        ...(executablePath ? { executablePath } : {}),
        args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND"],
      });
    });
    afterAll(() => browser?.close());
    body(() => browser as Browser);
  });
}

export interface Shown {
  readonly page: Page;
  /** What the console said that is not plain talk, and what the page asked the network for. */
  readonly troubles: string[];
  close(): Promise<void>;
}

/** An exported sheet, opened as a file is. */
export async function showExport(browser: Browser, html: string, options: BrowserContextOptions = {}): Promise<Shown> {
  return show(browser, { "/": { body: html, type: "text/html" } }, options);
}

/** The page of the sheet's panel as the editor shows it, with nothing on it yet. */
export async function showPanel(browser: Browser, options: BrowserContextOptions = {}): Promise<Shown> {
  const words = { title: "Build sheet", waiting: "Working the sheet out", trial: "Trial", builds: "Builds of this file", empty: "Nothing yet." };
  const html = sheetPage({ nonce: randomBytes(8).toString("hex"), script: "/sheet-page.js", ...words });
  const shown = await show(browser, { "/": { body: html, type: "text/html" }, "/sheet-page.js": { body: await pageScript(), type: "text/javascript" } }, options);
  await shown.page.waitForFunction(() => window.said.some(({ type }) => type === "ready"));
  return shown;
}

async function show(browser: Browser, served: Readonly<Record<string, { readonly body: string; readonly type: string }>>, options: BrowserContextOptions): Promise<Shown> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const troubles: string[] = [];
  page.on("console", (message) => ["error", "warning"].includes(message.type()) && troubles.push(message.text()));
  page.on("pageerror", (error) => troubles.push(String(error)));
  await page.addInitScript(() => {
    window.said = [];
    window.refused = [];
    window.touched = [];
    document.addEventListener("securitypolicyviolation", (event) => window.refused.push(`${event.violatedDirective}: ${event.blockedURI}`));
    const kept = "kept";
    const host = {
      postMessage: (message: FromPage) => void window.said.push(message),
      setState: (state: unknown) => sessionStorage.setItem(kept, JSON.stringify(state)),
      getState: () => JSON.parse(sessionStorage.getItem(kept) ?? "null") as unknown,
    };
    Object.assign(window, { acquireVsCodeApi: () => host });
  });
  await page.route("**/*", (route) => {
    const { pathname } = new URL(route.request().url());
    const file = served[pathname];
    if (file) return route.fulfill({ body: file.body, contentType: `${file.type}; charset=utf-8` });
    // A browser asks for the icon of every page by itself.
    if (pathname !== "/favicon.ico") troubles.push(`asked the network for ${pathname}`);
    return route.fulfill({ status: 404 });
  });
  await page.goto("http://sheet.invalid/");
  return { page, troubles, close: () => context.close() };
}

let script: Promise<string> | undefined;

function pageScript(): Promise<string> {
  script ??= build({ absWorkingDir: root, entryPoints: ["client/sheet-page.ts"], bundle: true, write: false, format: "iife", platform: "browser", target: "es2023" }).then(({ outputFiles }) => outputFiles[0]?.text ?? "");
  return script;
}

/** Sends what the editor sends, and comes back when the page has taken it in. */
export async function send(page: Page, message: ToPage): Promise<void> {
  await page.evaluate(
    (m) =>
      new Promise<void>((taken) => {
        window.addEventListener("message", () => taken(), { once: true });
        window.postMessage(m, "*");
      }),
    message,
  );
}

const require = createRequire(import.meta.url);
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

/** What the accessibility checker holds against the page by WCAG 2.2 AA, each as "rule: the element". */
export async function axeViolations(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe);
  return page.evaluate(async () => {
    const { axe } = window as unknown as { axe: typeof import("axe-core") };
    const { violations } = await axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] });
    return violations.flatMap(({ id, nodes }) => nodes.map(({ html, any }) => `${id}: ${html.slice(0, 160)} ${any.map((check) => check.message).join("; ")}`));
  });
}

/** The page as a screen reader gets it: each node's role and name, indented by depth, what is ignored left out. */
export async function heard(page: Page): Promise<string> {
  const session = await page.context().newCDPSession(page);
  const { nodes } = await session.send("Accessibility.getFullAXTree");
  await session.detach();
  const byId = new Map(nodes.map((node) => [node.nodeId, node]));
  const lines: string[] = [];
  const say = (id: string, depth: number): void => {
    const node = byId.get(id);
    if (!node) return;
    const role = String(node.role?.value ?? "");
    const silent = node.ignored || role === "generic" || role === "none" || role === "InlineTextBox";
    if (!silent) lines.push(`${"  ".repeat(depth)}${role} ${String(node.name?.value ?? "")}`.trimEnd());
    for (const child of node.childIds ?? []) say(child, silent ? depth : depth + 1);
  };
  const top = nodes[0];
  if (top) say(top.nodeId, 0);
  return lines.join("\n");
}
