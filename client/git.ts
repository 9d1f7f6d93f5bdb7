/** The editor's own git, as far as comparisons need it: which repository a file lies in, its revisions, and what a file said in one. */
import * as vscode from "vscode";

/** The parts of the built-in git extension's published interface that are used here. */
interface GitExtension {
  readonly enabled: boolean;
  getAPI(version: 1): GitApi;
}

interface GitApi {
  readonly state: "uninitialized" | "initialized";
  readonly onDidChangeState: vscode.Event<"uninitialized" | "initialized">;
  getRepository(uri: vscode.Uri): Repository | null;
  openRepository?(root: vscode.Uri): Promise<Repository | null>;
  toGitUri(uri: vscode.Uri, ref: string): vscode.Uri;
}

interface Commit {
  readonly hash: string;
  readonly message: string;
  readonly commitDate?: Date;
}

interface Change {
  readonly uri: vscode.Uri;
  readonly originalUri: vscode.Uri;
  readonly renameUri: vscode.Uri | undefined;
}

export interface Repository {
  readonly rootUri: vscode.Uri;
  readonly state: {
    readonly HEAD: { readonly name?: string; readonly commit?: string } | undefined;
    readonly workingTreeChanges: readonly Change[];
    readonly indexChanges: readonly Change[];
    readonly onDidChange: vscode.Event<void>;
  };
  show(ref: string, path: string): Promise<string>;
  buffer(ref: string, path: string): Promise<Uint8Array>;
  getCommit(ref: string): Promise<Commit>;
  log(options: { readonly maxEntries: number }): Promise<readonly Commit[]>;
  getRefs(query: object): Promise<readonly { readonly name?: string; readonly commit?: string }[]>;
  diffWith(ref: string): Promise<readonly Change[]>;
}

/** The built-in git, once it has looked around; nothing in a browser without it, where it is switched off, or in restricted mode. */
async function gitApi(): Promise<GitApi | undefined> {
  const extension = vscode.extensions.getExtension<GitExtension>("vscode.git");
  if (!extension) return undefined;
  const git = await extension.activate();
  if (!git.enabled) return undefined;
  const api = git.getAPI(1);
  if (api.state !== "initialized") {
    await new Promise<void>((done) => {
      const waiting = api.onDidChangeState((state) => {
        if (state !== "initialized") return;
        waiting.dispose();
        done();
      });
    });
  }
  return api;
}

/** The same without waiting for anything: nothing where git has not started yet. */
function gitNow(): GitApi | undefined {
  const extension = vscode.extensions.getExtension<GitExtension>("vscode.git");
  return extension?.isActive && extension.exports.enabled ? extension.exports.getAPI(1) : undefined;
}

/** The repository of a file, or a sentence on why there is none. */
export async function repositoryOf(uri: vscode.Uri): Promise<Repository | string> {
  const api = await gitApi();
  if (!api)
    return vscode.workspace.isTrusted
      ? vscode.l10n.t("The editor's git is not at hand here, so there is no earlier state to compare with. In a browser it may be missing; on a desktop it may be switched off.")
      : vscode.l10n.t("In restricted mode the editor keeps its git switched off. Trust this folder to compare with a commit.");
  const folder = vscode.workspace.getWorkspaceFolder(uri)?.uri;
  const repository = api.getRepository(uri) ?? (folder && (await api.openRepository?.(folder).then((r) => r, () => null)));
  return repository ?? vscode.l10n.t("This file lies in no git repository, so there is no earlier state to compare with.");
}

/** A file as it was in a revision. */
export async function textAt(uri: vscode.Uri, ref: string): Promise<{ text?: string; problem?: string }> {
  const bytes = await bytesAt(uri, ref);
  if (!bytes) return { problem: "missing" };
  if (bytes.length > LARGEST_FILE) return { problem: "too-large" };
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return text.includes("\0") ? { problem: "not-text" } : { text };
  } catch {
    return { problem: "not-text" };
  }
}

const LARGEST_FILE = 4 * 1024 * 1024;

export async function bytesAt(uri: vscode.Uri, ref: string): Promise<Uint8Array | undefined> {
  return gitNow()?.getRepository(uri)?.buffer(ref, uri.fsPath).then((bytes) => bytes, () => undefined);
}

/** Where the editor shows a file as it was in a revision. */
export function uriAt(uri: vscode.Uri, ref: string): vscode.Uri {
  return gitNow()?.toGitUri(uri, ref) ?? uri;
}

/** Where a file lay in a revision, if it has been renamed since. */
export async function originalOf(repository: Repository, uri: vscode.Uri, ref: string): Promise<vscode.Uri> {
  const changes = await repository.diffWith(ref).then((found) => found, () => []);
  return changes.find((c) => c.renameUri?.toString() === uri.toString())?.originalUri ?? uri;
}

/** "3f9c21d", or "3f9c21d and changes that are not committed"; nothing where git does not know the file. */
export function revisionOf(uri: vscode.Uri): string | undefined {
  const state = gitNow()?.getRepository(uri)?.state;
  const commit = state?.HEAD?.commit;
  if (state === undefined || commit === undefined) return undefined;
  const changed = [...state.workingTreeChanges, ...state.indexChanges].some((c) => c.uri.path.endsWith(".tappet"));
  return changed ? vscode.l10n.t("{0} and changes that are not committed", commit.slice(0, 7)) : commit.slice(0, 7);
}
