// The looks of the sheet, on paper and on screen, in exports and in the editor's page. In the editor the theme's own colours are taken.

export const SHEET_CSS = `
:root { color-scheme: light dark; --paper: var(--vscode-editor-background, #fdfcf8); --ink: var(--vscode-editor-foreground, #1d1f21); --faint: var(--vscode-descriptionForeground, #5c5f62); --rule: var(--vscode-editorWidget-border, #cfcbc0); --wash: var(--vscode-editorWidget-background, #f3f0e7); --stop: var(--vscode-editorError-foreground, #9b1c1c); --warn: var(--vscode-editorWarning-foreground, #7a5200); --link: var(--vscode-textLink-foreground, #1f4f7a); }
@media (prefers-color-scheme: dark) { :root { --paper: var(--vscode-editor-background, #191b1d); --ink: var(--vscode-editor-foreground, #e6e3da); --faint: var(--vscode-descriptionForeground, #a5a39b); --rule: var(--vscode-editorWidget-border, #44464a); --wash: var(--vscode-editorWidget-background, #222528); --stop: var(--vscode-editorError-foreground, #ff9d94); --warn: var(--vscode-editorWarning-foreground, #e8c069); --link: var(--vscode-textLink-foreground, #9cc7ee); } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 1.0625rem/1.5 Charter, "Bitstream Charter", "Source Serif 4", Cambria, Georgia, serif; overflow-wrap: anywhere; }
.sheet { max-width: 56rem; margin: 0 auto; padding: 2rem 1.25rem 4rem; }
h1 { font-size: 1.7rem; line-height: 1.2; font-weight: 600; margin: 0 0 0.75rem; }
h2 { font-size: 1.2rem; font-weight: 600; margin: 2.5rem 0 0.6rem; padding-top: 0.5rem; border-top: 1px solid var(--rule); }
h3, caption { font-size: 1rem; font-weight: 600; text-align: left; margin: 1.2rem 0 0.3rem; padding: 0; }
caption { padding: 1rem 0 0.3rem; }
p { margin: 0.4rem 0; }
.verdict { font-size: 1.3rem; line-height: 1.4; margin: 0 0 1rem; padding: 0.2rem 0 0.2rem 0.9rem; border-left: 0.35rem solid var(--rule); }
.verdict[data-stopped="yes"] { border-left-color: var(--stop); }
header dl { display: grid; gap: 0.1rem; margin: 0; color: var(--faint); }
header dl div { display: flex; gap: 0.75rem; }
header dt { flex: 0 0 4.5rem; }
dd { margin: 0; }
.cautions dt { font-weight: 600; margin-top: 0.5rem; }
code, .formula { font-family: ui-monospace, "Cascadia Mono", Menlo, Consolas, monospace; font-size: 0.875em; }
.findings { padding-left: 1.5rem; }
.findings > li { margin-bottom: 0.9rem; }
.findings ul, .waived ul { margin: 0.2rem 0; }
.severity { font-variant: small-caps; letter-spacing: 0.03em; font-weight: 600; border: 1px solid currentColor; border-radius: 0.2rem; padding: 0 0.3rem; }
[data-severity="error"] > p > .severity, .severity[data-severity="error"] { color: var(--stop); border-width: 2px; }
[data-severity="warning"] > p > .severity, .severity[data-severity="warning"] { color: var(--warn); }
.rule, .note, .place { color: var(--faint); }
.place, .note { font-size: 0.875rem; }
button { font: inherit; color: var(--link); background: none; border: 0; padding: 0; text-align: left; text-decoration: underline; text-underline-offset: 0.15em; cursor: pointer; }
button:focus-visible, summary:focus-visible { outline: 2px solid var(--vscode-focusBorder, var(--link)); outline-offset: 2px; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { padding: 0.25rem 0.9rem 0.25rem 0; text-align: left; vertical-align: baseline; font-weight: 400; overflow-wrap: break-word; }
thead th { color: var(--faint); font-size: 0.875rem; border-bottom: 1px solid var(--rule); }
tbody tr { border-bottom: 1px solid var(--rule); }
.values tbody > tr:first-child { border-bottom: 0; }
.values .figure { text-align: right; font-variant-numeric: tabular-nums lining-nums; white-space: nowrap; }
.values thead th:not(:first-child) { text-align: right; }
.values .other { color: var(--faint); }
.values tbody { position: relative; }
.values tr > :last-child { padding-right: 3.25rem; }
.values tbody th { min-width: 11rem; }
.values .limit { white-space: normal; }
.values .how td { padding: 0; }
.how summary, .missing summary { color: var(--faint); font-size: 0.875rem; cursor: pointer; width: max-content; max-width: 100%; }
.how summary { position: absolute; top: 0.35rem; right: 0; }
.how details[open], .missing[open] { background: var(--wash); padding: 0.3rem 0.75rem; margin-bottom: 0.4rem; }
.missing { margin-top: 0.6rem; }
tbody[aria-current] > tr:first-child, li[aria-current] { background: var(--wash); outline: 1px solid var(--link); }
.ticks { list-style: none; padding-left: 0; }
.box { display: inline-block; width: 1.05em; height: 1.05em; line-height: 1; text-align: center; border: 1.5px solid currentColor; vertical-align: -0.15em; margin-right: 0.4em; }
figure { margin: 1rem 0; }
figure svg { max-width: 100%; height: auto; }
figcaption { color: var(--faint); font-size: 0.875rem; }
.hidden { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@media (forced-colors: active) { .verdict { border-left-color: CanvasText; } }
@media print {
  @page { margin: 16mm 14mm; }
  :root { --paper: #fff; --ink: #000; --faint: #000; --rule: #888; --wash: #fff; --stop: #000; --warn: #000; --link: #000; }
  body { font-size: 10.5pt; }
  .sheet { max-width: none; padding: 0; }
  .wide { overflow: visible; }
  .values .figure { white-space: normal; }
  h2, h3, caption { break-after: avoid; }
  tr, li, figure, .verdict { break-inside: avoid; }
  thead { display: table-header-group; }
  .how:not(:has(details[open])) { display: none; }
  .values tbody > tr:first-child { border-bottom: 1px solid var(--rule); }
  .values tr > :last-child { padding-right: 0; }
  .how summary { display: none; }
}
`.trim();
