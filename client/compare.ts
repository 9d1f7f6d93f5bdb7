/** What a build is compared with: the last commit, or a revision that the reader picks from those that git knows. Works nothing out. */
import * as vscode from "vscode";
import { type Repository, originalOf, repositoryOf } from "./git.ts";

/** An earlier state of a file. */
export interface Against {
  readonly repository: Repository;
  /** The revision as it is now: the last commit is another one after the next commit. */
  readonly now: () => Promise<AgainstNow | undefined>;
}

export interface AgainstNow {
  /** The full id of the commit. */
  readonly ref: string;
  readonly label: string;
  /** Where the file lay then. */
  readonly original: vscode.Uri;
}

/** Asks for what is missing, and says why there is nothing to compare with. */
export async function chooseAgainst(uri: vscode.Uri, which: "last-commit" | "another"): Promise<Against | undefined> {
  const repository = await repositoryOf(uri);
  if (typeof repository === "string") {
    void vscode.window.showInformationMessage(repository);
    return undefined;
  }
  if (repository.state.HEAD?.commit === undefined) {
    void vscode.window.showInformationMessage(vscode.l10n.t("This repository has no commit yet, so there is nothing to compare with."));
    return undefined;
  }
  const fixed = which === "another" ? await pickRevision(repository) : undefined;
  if (which === "another" && fixed === undefined) return undefined;
  return {
    repository,
    async now() {
      const ref = fixed?.ref ?? repository.state.HEAD?.commit;
      if (ref === undefined) return undefined;
      return { ref, label: fixed ? fixed.label : vscode.l10n.t("the last commit ({0})", ref.slice(0, 7)), original: await originalOf(repository, uri, ref) };
    },
  };
}

interface Picked {
  readonly ref: string;
  readonly label: string;
}

/** Branches, tags and the newest commits; anything else that git understands can be typed. */
async function pickRevision(repository: Repository): Promise<Picked | undefined> {
  const [commits, refs] = await Promise.all([repository.log({ maxEntries: 100 }).then((c) => c, () => []), repository.getRefs({}).then((r) => r, () => [])]);
  const typed = { label: vscode.l10n.t("Type a revision …"), name: undefined };
  const items = [
    typed,
    ...refs.flatMap((ref) => (ref.name !== undefined && ref.commit !== undefined ? [{ label: ref.name, description: ref.commit.slice(0, 7), name: ref.name }] : [])),
    ...commits.map((c) => ({ label: c.message.split("\n")[0] ?? "", description: [c.hash.slice(0, 7), c.commitDate?.toISOString().slice(0, 10)].filter((t) => t !== undefined).join(" "), name: c.hash })),
  ];
  const item = await vscode.window.showQuickPick(items, { placeHolder: vscode.l10n.t("Which revision is this build to be compared with?"), matchOnDescription: true });
  if (!item) return undefined;
  const name = item === typed ? await vscode.window.showInputBox({ prompt: vscode.l10n.t("A branch, a tag, or a commit, as git takes it") }) : item.name;
  if (name === undefined || name.trim() === "") return undefined;
  const commit = await repository.getCommit(name.trim()).then((c) => c, () => undefined);
  if (!commit) {
    void vscode.window.showInformationMessage(vscode.l10n.t("git knows no revision \"{0}\" here.", name.trim()));
    return undefined;
  }
  const short = commit.hash.slice(0, 7);
  return { ref: commit.hash, label: commit.hash.startsWith(name.trim()) ? short : `${name.trim()} (${short})` };
}
