/** The words of the bar above a sheet whose figures are being tried. Decides nothing. */
import * as vscode from "vscode";
import type { SheetTrial } from "../server/editor/sheet.ts";
import type { TrialBar } from "./sheet-messages.ts";

export function trialBar({ figures, values, come, gone }: SheetTrial): TrialBar {
  return {
    title: vscode.l10n.t("Trial, not written: {0}", figures.map((f) => `${f.words} ${f.from} → ${f.to}`).join(", ")),
    lines: [
      values === 1 ? vscode.l10n.t("One value on this sheet reads otherwise.") : vscode.l10n.t("{0} values on this sheet read otherwise.", values),
      ...come.map((message) => vscode.l10n.t("Found then: {0}", message)), ...gone.map((message) => vscode.l10n.t("No longer found: {0}", message)),
    ],
    apply: vscode.l10n.t("Apply: write it in the file"),
    putBack: vscode.l10n.t("Put back"),
  };
}
