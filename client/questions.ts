/**
 * Questions one after another, each box shown before the last one goes: were there a moment without any, the editor would give the keyboard
 * back to what is in front, and a walkthrough keeps it. Knows nothing of what is asked.
 */
import * as vscode from "vscode";

export class Questions {
  private shown: vscode.QuickInput | undefined;
  private asked = 0;
  private readonly title: (n: number) => string;

  constructor(title: (n: number) => string) {
    this.title = title;
  }

  /** Words to be written; undefined where they are not. */
  words({ prompt, placeholder = "", value = "", validate }: { readonly prompt: string; readonly placeholder?: string; readonly value?: string; readonly validate?: (text: string) => string | undefined }): Promise<string | undefined> {
    const box = vscode.window.createInputBox();
    Object.assign(box, { prompt, placeholder, value });
    box.onDidChangeValue((text) => (box.validationMessage = validate?.(text)));
    return this.show(box, () => ((box.validationMessage = validate?.(box.value)) === undefined ? box.value : undefined));
  }

  /** One of several things; undefined where none is taken. */
  choice<T extends vscode.QuickPickItem>(items: readonly T[], placeholder: string): Promise<T | undefined> {
    const box = vscode.window.createQuickPick<T>();
    Object.assign(box, { items, placeholder, matchOnDescription: true, matchOnDetail: true });
    return this.show(box, () => box.selectedItems[0]);
  }

  end(): void {
    this.shown?.dispose();
  }

  private show<T>(box: vscode.InputBox | vscode.QuickPick<vscode.QuickPickItem>, answer: () => T | undefined): Promise<T | undefined> {
    box.title = this.title(++this.asked);
    box.ignoreFocusOut = true;
    const last = this.shown;
    this.shown = box;
    return new Promise((resolve) => {
      box.onDidAccept(() => {
        const given = answer();
        if (given !== undefined) resolve(given);
      });
      box.onDidHide(() => resolve(undefined));
      box.show();
      last?.dispose();
    });
  }
}
