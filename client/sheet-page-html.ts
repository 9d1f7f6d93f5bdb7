/** The frame of the page in the sheet's panel: its policy, its style, its one script. Everything on it comes later, as messages. */
import { COMPARISON_CSS } from "../server/report/comparison.css.ts";
import { SHEET_CSS } from "../server/report/sheet.css.ts";

export interface PageWords {
  /** Fresh for every page: only what carries it is styled or run. */
  readonly nonce: string;
  /** Where the page's script is. */
  readonly script: string;
  readonly title: string;
  readonly waiting: string;
  /** Names the bar of what is being tried. */
  readonly trial: string;
  /** Names the choice between the builds of a file. */
  readonly builds: string;
  readonly empty: string;
}

export function sheetPage({ nonce, script, title, waiting, trial, builds, empty }: PageWords): string {
  const policy = `default-src 'none'; script-src 'nonce-${nonce}'; style-src 'nonce-${nonce}'; base-uri 'none'; form-action 'none'`;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style nonce="${nonce}">${SHEET_CSS}
${COMPARISON_CSS}</style>
</head>
<body class="in-editor">
<div id="trial" role="region" aria-label="${escaped(trial)}" aria-live="polite" hidden></div>
<div id="builds" role="group" aria-label="${escaped(builds)}" hidden></div>
<div id="sheet" data-empty="${escaped(empty)}"><p>${escaped(waiting)}</p></div>
<script nonce="${nonce}" src="${escaped(script)}"></script>
</body>
</html>`;
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}
