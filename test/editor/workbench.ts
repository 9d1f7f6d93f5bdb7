/**
 * A real workbench for one session: the editor's server in clean folders on a loopback port, the packed extension in it, and a
 * Chromium page that shows it. Knows nothing of what is tested.
 */
import { execFileSync, spawn, spawnSync, type ChildProcess } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { devNull, tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Browser, type Page } from "playwright-core";
import type { Machine } from "./machine.ts";
import type { Session } from "./sessions.ts";

const root = join(import.meta.dirname, "..", "..");
export const packedExtension = join(root, "dist", "tappet.vsix");

/** A session's own folders; nothing of the person's own editor is read or written. */
export type Folders = {
  readonly base: string;
  readonly workspace: string;
  readonly runner: string;
  readonly extensions: string;
  readonly userData: string;
  readonly serverData: string;
};

export type Workbench = {
  readonly page: Page;
  /** Shows the workbench with the suite in its extension host; the suite then runs by itself. */
  open(suite: string): Promise<void>;
  /** Shows the workbench again without a suite: a window loaded anew. */
  reopen(): Promise<void>;
  /** Fulfilled, with a sentence, if the server or the page goes away before it is closed. */
  readonly died: Promise<string>;
  /** What the server and the page's console have said, for a report of a failure. */
  readonly talk: readonly string[];
  close(): Promise<void>;
};

/** Loopback only: a page or an extension that reaches for any other host finds none. */
const browserArguments = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
];

const settings = {
  "workbench.startupEditor": "none",
  "files.autoSave": "off",
  "workbench.welcomePage.walkthroughs.openOnInstall": false,
  "workbench.enableExperiments": false,
  "workbench.secondarySideBar.defaultVisibility": "hidden",
  "chat.disableAIFeatures": true,
  "extensions.ignoreRecommendations": true,
  "extensions.autoCheckUpdates": false,
  "update.mode": "none",
  "git.openRepositoryInParentFolders": "never",
  // In the restricted session the folder stays untrusted without a question in the way.
  "security.workspace.trust.startupPrompt": "never",
  "security.workspace.trust.banner": "never",
};

/** Clean folders with the test workspace (the samples, and the tests' own files beside them) and the runner extension. */
export function layOutFolders(session: Session): Folders {
  const base = mkdtempSync(join(tmpdir(), `tappet-${session.name}-`));
  const folders: Folders = {
    base,
    workspace: join(base, "workspace"),
    runner: join(base, "runner"),
    extensions: join(base, "extensions"),
    userData: join(base, "user-data"),
    serverData: join(base, "server-data"),
  };
  for (const folder of Object.values(folders)) mkdirSync(folder, { recursive: true });
  const samples = join(root, "samples");
  if (existsSync(samples)) cpSync(samples, folders.workspace, { recursive: true });
  cpSync(join(import.meta.dirname, "workspace"), folders.workspace, { recursive: true });
  keepInGit(join(folders.workspace, "kept"));
  cpSync(join(import.meta.dirname, "runner"), folders.runner, { recursive: true });
  mkdirSync(join(folders.userData, "User"));
  const inWorker = { "remote.extensionKind": { "tappet.tappet": ["web"], "tappet-test.tappet-test-runner": ["web"] } };
  const own = session.host === "web" ? { ...settings, ...inWorker } : settings;
  writeFileSync(join(folders.userData, "User", "settings.json"), JSON.stringify(own, null, 2));
  return folders;
}

/** Makes a folder a repository with one commit of everything in it, untouched by the settings of whoever runs the tests. */
function keepInGit(folder: string): void {
  const env = { ...process.env, GIT_CONFIG_GLOBAL: devNull, GIT_CONFIG_SYSTEM: devNull };
  for (const args of [["init", "--quiet", "--initial-branch=main"], ["add", "--all"], ["-c", "user.name=Test Builder", "-c", "user.email=builder@tappet.invalid", "commit", "--quiet", "--message", "The first spec"]])
    execFileSync("git", args, { cwd: folder, env, stdio: ["ignore", "ignore", "inherit"] });
}

export async function startWorkbench(machine: Machine, session: Session, folders: Folders): Promise<Workbench> {
  installExtension(machine, folders);

  const talk: string[] = [];
  const { promise: died, resolve: die } = Promise.withResolvers<string>();
  const { server, port } = await startServer(machine, session, folders, talk);
  server.on("exit", (code) => die(`The editor's server ended with ${code}.`));

  let browser: Browser | undefined;
  try {
    browser = await chromium.launch({ executablePath: machine.chromium, args: browserArguments });
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, locale: "en-GB" });
    const page = await context.newPage();
    page.on("console", (message) => talk.push(`page ${message.type()}: ${message.text()}`));
    page.on("crash", () => die("The editor's page crashed."));
    browser.on("disconnected", () => die("The browser ended."));

    const opened = browser;
    return {
      page,
      died,
      talk,
      async open(suite) {
        await page.goto(addressOf(port, folders, suite));
        await page.locator(".monaco-workbench").waitFor({ timeout: 60_000 });
      },
      async reopen() {
        await page.goto(addressOf(port, folders));
        await page.locator(".monaco-workbench").waitFor({ timeout: 60_000 });
      },
      async close() {
        await opened.close();
        await stopServer(server);
        rmSync(folders.base, { recursive: true, force: true, maxRetries: 5 });
      },
    };
  } catch (error) {
    await browser?.close();
    await stopServer(server);
    throw error;
  }
}

function installExtension(machine: Machine, folders: Folders): void {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [
      machine.serverMain,
      "--accept-server-license-terms",
      "--install-extension",
      packedExtension,
      "--extensions-dir",
      folders.extensions,
      "--server-data-dir",
      folders.serverData,
      "--user-data-dir",
      folders.userData,
    ],
    { encoding: "utf8" },
  );
  if (status !== 0) throw new Error(`The packed extension did not install.\n${stdout}${stderr}`);
}

async function startServer(
  machine: Machine,
  session: Session,
  folders: Folders,
  talk: string[],
): Promise<{ readonly server: ChildProcess; readonly port: number }> {
  const server = spawn(
    process.execPath,
    [
      machine.serverMain,
      "--host=127.0.0.1",
      "--port=0",
      "--accept-server-license-terms",
      "--without-connection-token",
      "--enable-smoke-test-driver",
      "--disable-telemetry",
      ...(session.trusted ? ["--disable-workspace-trust"] : []),
      `--server-data-dir=${folders.serverData}`,
      `--user-data-dir=${folders.userData}`,
      `--extensions-dir=${folders.extensions}`,
    ],
    // A group of its own, so that the extension hosts it starts go with it.
    { stdio: ["ignore", "pipe", "pipe"], detached: process.platform !== "win32" },
  );
  const { promise, resolve, reject } = Promise.withResolvers<number>();
  const hear = (chunk: Buffer): void => {
    talk.push(`server: ${chunk.toString("utf8").trimEnd()}`);
    const found = /Extension host agent listening on (\d+)/.exec(chunk.toString("utf8"));
    if (found) resolve(Number(found[1]));
  };
  server.stdout.on("data", hear);
  server.stderr.on("data", hear);
  server.on("error", reject);
  server.on("exit", (code) => reject(new Error(`The editor's server ended with ${code}.\n${talk.join("\n")}`)));
  return { server, port: await promise };
}

async function stopServer(server: ChildProcess): Promise<void> {
  if (server.exitCode !== null || server.pid === undefined) return;
  const gone = new Promise((end) => server.once("exit", end));
  try {
    process.kill(process.platform === "win32" ? server.pid : -server.pid, "SIGKILL");
  } catch {
    // Gone in the meantime, which is what was wanted.
  }
  await gone;
}

function addressOf(port: number, folders: Folders, suite?: string): string {
  const remote = (path: string): string => `vscode-remote://127.0.0.1:${port}${path}`;
  if (suite === undefined) return `http://127.0.0.1:${port}/?${new URLSearchParams({ folder: folders.workspace })}`;
  const payload = [
    ["extensionDevelopmentPath", remote(folders.runner)],
    // The Node host resolves it as a module, the web worker host fetches exactly this file; both take it with its ending.
    ["extensionTestsPath", remote(suite)],
  ];
  const query = new URLSearchParams({ folder: folders.workspace, payload: JSON.stringify(payload) });
  return `http://127.0.0.1:${port}/?${query}`;
}
