/**
 * What a suite inside the editor's extension host is written with: `test`, `until` and the hands. Runs in Node and in the
 * web worker host alike, so it uses nothing of either. Knows nothing of the extension under test but its name.
 */
import * as vscode from "vscode";
import type { Answer, Message, Result } from "./exchange.ts";
import type { Hands } from "./hands.ts";
import type { SessionName } from "./sessions.ts";

/** Put in by the bundler: where the outer process listens, which session this is, and which tests were asked for. */
declare const TAPPET_EXCHANGE: string;
declare const TAPPET_SESSION: SessionName;
declare const TAPPET_ONLY: string;

type Test = { readonly name: string; readonly run: () => Promise<void>; readonly sessions?: readonly SessionName[] };

export const extensionId = "tappet.tappet";
export const session: SessionName = TAPPET_SESSION;

/** How long a wait, and a whole test, may take before it counts as failed: bounds, never pauses. */
const patience = 90_000;
const patienceForTest = 180_000;

const tests: Test[] = [];

/** Declares a test; `sessions` are the ones it is meant for, all of them when left out. */
export function test(name: string, run: () => Promise<void>, sessions?: readonly SessionName[]): void {
  tests.push({ name, run, ...(sessions ? { sessions } : {}) });
}

/** Runs the tests in the order of their declaration, each bounded, and says so of each; a failed test stops no other. */
export async function runTests(): Promise<void> {
  for (const { name, run, sessions } of tests) {
    if (sessions && !sessions.includes(session)) continue;
    if (!name.includes(TAPPET_ONLY)) continue;
    await report(await runTest(name, run));
    await clearDesk();
  }
  await send({ kind: "end" });
}

/** Drops what a test typed and did not save, then closes every tab, without the question that would stand in the next one's way. */
async function clearDesk(): Promise<void> {
  for (const document of vscode.workspace.textDocuments.filter(({ isDirty }) => isDirty)) {
    await vscode.window.showTextDocument(document);
    await vscode.commands.executeCommand("workbench.action.revertAndCloseActiveEditor");
  }
  await vscode.commands.executeCommand("workbench.action.closeAllEditors");
}

async function runTest(name: string, run: () => Promise<void>): Promise<Result> {
  try {
    await bounded(run(), "the test to end", patienceForTest);
    return { name, state: "passed" };
  } catch (error) {
    if (error instanceof NoHands) return { name, state: "skipped", why: error.message };
    return { name, state: "failed", why: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

/** Waits for `holds` to give something, looked at now and after each firing of `event`; what it gave is the answer. */
export async function until<T>(what: string, event: vscode.Event<unknown>, holds: () => T | undefined): Promise<T> {
  const now = holds();
  if (now !== undefined) return now;
  const { promise, resolve, reject } = Promise.withResolvers<T>();
  const listener = event(() => {
    try {
      const then = holds();
      if (then !== undefined) resolve(then);
    } catch (error) {
      reject(error);
    }
  });
  try {
    return await bounded(promise, what);
  } finally {
    listener.dispose();
  }
}

/** Asks again and again, for the few things that the editor has no event for; an error in `ask` counts as not yet. */
export async function eventually<T>(what: string, ask: () => T | undefined | Thenable<T | undefined>): Promise<T> {
  let over = false;
  let last: unknown;
  async function keepAsking(): Promise<T> {
    while (!over) {
      try {
        const answer = await ask();
        if (answer !== undefined) return answer;
      } catch (error) {
        last = error;
      }
      await new Promise((next) => setTimeout(next, 20));
    }
    throw last;
  }
  try {
    return await bounded(keepAsking(), what);
  } catch (error) {
    // What stood in the way at the last look tells more than that it took too long.
    throw last === undefined || last === error ? error : new Error(`${error instanceof Error ? error.message : String(error)} At the last look: ${last instanceof Error ? last.message : String(last)}`);
  } finally {
    over = true;
  }
}

/** Opens a file of the test workspace in the editor, by its path from the workspace folder. */
export async function openFile(path: string, column?: vscode.ViewColumn): Promise<vscode.TextEditor> {
  const document = await vscode.workspace.openTextDocument(fileUri(path));
  return vscode.window.showTextDocument(document, column ?? vscode.ViewColumn.One);
}

export function fileUri(path: string): vscode.Uri {
  const folder = vscode.workspace.workspaceFolders?.[0];
  if (!folder) throw new Error("The test workspace is not open.");
  return vscode.Uri.joinPath(folder.uri, path);
}

/** Fails with a sentence unless the thing is so. */
export function expect(so: boolean, sentence: string): asserts so {
  if (!so) throw new Error(sentence);
}

/** Fails unless both are alike as JSON, and shows both. */
export function expectEqual(actual: unknown, expected: unknown, what: string): void {
  const [a, e] = [JSON.stringify(actual), JSON.stringify(expected)];
  if (a !== e) throw new Error(`${what}: expected ${e}, got ${a}`);
}

/** A line in the outer process's output. */
export async function log(text: string): Promise<void> {
  await send({ kind: "log", text });
}

/** The hands at the page; on the desktop there are none, and a test that needs them counts as skipped there. */
export const hands = new Proxy({} as Hands, {
  get(_, step: string) {
    return async (...args: readonly unknown[]): Promise<unknown> => {
      if (session === "desktop") throw new NoHands("The desktop run has no hands at the page.");
      const { value, error } = await send({ kind: "hand", step, args });
      if (error !== undefined) throw new Error(`hands.${step}: ${error}`);
      return value;
    };
  },
});

class NoHands extends Error {}

async function report(result: Result): Promise<void> {
  await send({ kind: "result", result });
}

async function send(message: Message): Promise<Answer> {
  const response = await fetch(TAPPET_EXCHANGE, { method: "POST", body: JSON.stringify(message) });
  return (await response.json()) as Answer;
}

async function bounded<T>(work: Promise<T>, what: string, bound = patience): Promise<T> {
  const { promise: late, reject } = Promise.withResolvers<never>();
  const timer = setTimeout(() => reject(new Error(`Waited ${bound / 1000} s in vain for ${what}.`)), bound);
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}
