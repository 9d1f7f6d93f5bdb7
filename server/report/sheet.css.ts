// The looks of the sheet, on paper and on screen, in exports and in the editor's page. In the editor the theme's own colours are taken.

export const SHEET_CSS = `
:root { color-scheme: light dark; }
body { --paper: #fdfcf8; --ink: #1d1f21; --faint: #595c5f; --rule: #cfcbc0; --wash: #f3f0e7; --stop: #9b1c1c; --warn: #8a5a00; --link: #1f4f7a; }
@media (prefers-color-scheme: dark) { body { --paper: #191b1d; --ink: #e6e3da; --faint: #a5a39b; --rule: #44464a; --wash: #222528; --stop: #ff9d94; --warn: #e8c069; --link: #9cc7ee; } }
body.in-editor { --paper: var(--vscode-editor-background); --ink: var(--vscode-editor-foreground); --faint: var(--vscode-descriptionForeground, var(--vscode-editor-foreground)); --rule: var(--vscode-contrastBorder, var(--vscode-editorWidget-border, currentColor)); --wash: var(--vscode-editorWidget-background, var(--vscode-editor-background)); --stop: var(--vscode-editorError-foreground, currentColor); --warn: var(--vscode-editorWarning-foreground, currentColor); --link: var(--vscode-textLink-foreground, currentColor); }
body.in-editor.vscode-high-contrast { --faint: var(--vscode-editor-foreground); --wash: var(--vscode-editor-background); }

* { box-sizing: border-box; }
body, body.in-editor { margin: 0; padding: 0; background: var(--paper); color: var(--ink); font: 1.0625rem/1.45 Charter, "Bitstream Charter", "Source Serif 4", Cambria, Georgia, serif; overflow-wrap: anywhere; }
.sheet, #sheet > p { max-width: 58rem; margin: 0 auto; padding: 2rem 1.5rem 4rem; }
[hidden] { display: none !important; }
#builds { max-width: 58rem; margin: 0 auto; padding: 1rem 1.5rem 0; display: flex; flex-wrap: wrap; gap: 0.25rem 1.1rem; }
#builds [aria-pressed="true"] { color: var(--ink); font-weight: 600; text-decoration: none; }
h1 { font-size: 1.7rem; line-height: 1.2; font-weight: 600; margin: 0 0 0.9rem; text-wrap: balance; }
h2 { font-size: 1.25rem; font-weight: 600; margin: 2.75rem 0 0.5rem; padding-top: 0.4rem; border-top: 2px solid var(--ink); }
h3, caption { font-size: 1rem; font-weight: 600; text-align: left; margin: 1.5rem 0 0.3rem; }
caption { padding: 1.5rem 0 0.3rem; margin: 0; }
p { margin: 0.35rem 0; }
ul, ol { margin: 0.35rem 0; padding-left: 1.25rem; }
dd, dl { margin: 0; }
code, .formula { font-family: ui-monospace, "Cascadia Mono", Menlo, Consolas, monospace; font-size: 0.875em; }
.note, .place { color: var(--faint); font-size: 0.875rem; font-weight: 400; }
.hidden { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }

.verdict { font-size: 1.25rem; line-height: 1.4; margin: 0 0 1.1rem; padding: 0.1rem 0 0.1rem 0.9rem; border-left: 0.3rem solid var(--rule); }
.verdict[data-stopped="yes"] { border-left: 0.6rem double var(--stop); }
.facts { display: grid; grid-template-columns: max-content 1fr; gap: 0.1rem 1rem; }
.facts > div { display: grid; grid-column: 1 / -1; grid-template-columns: subgrid; }
.facts dt { color: var(--faint); }
nav { margin-top: 1.1rem; }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.15rem 1.1rem; }
nav li { padding: 0.15rem 0; }

.findings > li { margin-bottom: 1rem; padding-left: 0.25rem; }
.findings p { margin: 0; }
.severity { font-variant: small-caps; letter-spacing: 0.03em; font-weight: 600; border: 1px solid var(--rule); border-radius: 0.15rem; padding: 0 0.3rem; white-space: nowrap; }
[data-severity="error"] > p > .severity, .severity[data-severity="error"] { border: 2px solid var(--stop); }
[data-severity="warning"] > p > .severity, .severity[data-severity="warning"] { border: 2px dotted var(--warn); }

a, button { color: var(--link); }
button { font: inherit; background: none; border: 0; padding: 0; text-align: inherit; cursor: pointer; text-decoration: underline; text-decoration-thickness: 1px; text-underline-offset: 0.15em; }
button.place { color: var(--faint); font-size: 0.875rem; }
button.go { color: inherit; font-variant-numeric: inherit; text-decoration-color: transparent; }
button.go:hover, button.place:hover { color: var(--link); text-decoration-color: currentColor; }
:focus-visible { outline: 2px solid var(--vscode-focusBorder, var(--link)); outline-offset: 2px; }

table { border-collapse: collapse; width: 100%; }
th, td { padding: 0.28rem 1rem 0.28rem 0; text-align: left; vertical-align: baseline; font-weight: 400; overflow-wrap: break-word; }
th:last-child, td:last-child { padding-right: 0; }
thead th { color: var(--faint); font-size: 0.875rem; vertical-align: bottom; }
thead th, thead td { border-bottom: 1px solid var(--rule); }
tbody tr { border-bottom: 1px solid var(--rule); }
.whole { white-space: nowrap; }
td, .figure { font-variant-numeric: tabular-nums lining-nums; }
.wide { overflow-x: auto; position: relative; }
.readings td, .readings thead th:not(:first-child) { text-align: right; width: 6em; }
.readings tbody th { width: 12em; }
.readings td.said { text-align: left; width: auto; }
.records td.broken:not(:empty) { min-width: 7.5em; }
.wide .at { width: auto; min-width: 4.5em; text-align: right; overflow-wrap: anywhere; }
.readings .at { white-space: nowrap; }

.values { table-layout: fixed; }
.values thead .label { width: 21.5em; }
.values thead .figure { width: 12.4em; }
.values thead .other { width: 9.6em; }
.values .label { padding-left: 1.4rem; }
.values .figure, .values .other { text-align: right; }
.values td.figure { font-weight: 600; }
.values .other { color: var(--faint); }
.values .bounds { padding-left: 0.6rem; }
.tried .note.tried { display: block; font-weight: bold; }
#trial { position: sticky; top: 0; z-index: 1; margin: 0 0 1rem; padding: .5rem .75rem; border: 2px dashed currentColor; background: var(--paper); }
#trial p, #trial ul { margin: .25rem 0; }
.spread, .limit, .margin { display: block; }
.words { font-size: 0.875rem; font-weight: 400; }
.values tbody { position: relative; }
.values tbody > tr:first-child { border-bottom: 0; }
.how td { padding: 0; }
.how summary { position: absolute; top: 0.1rem; left: -0.35rem; width: 1.65rem; height: 1.9rem; display: grid; place-items: center; list-style: none; cursor: pointer; color: var(--faint); }
.how summary::-webkit-details-marker { display: none; }
.how summary::before { content: "\\25B8"; content: "\\25B8" / ""; font-size: 0.9rem; line-height: 1; }
.how details[open] summary::before { content: "\\25BE"; content: "\\25BE" / ""; }
.how summary:hover { color: var(--link); }
.how details[open], .missing[open] { background: var(--wash); border-left: 1px solid var(--rule); padding: 0.4rem 0.9rem 0.5rem; margin: 0 0 0.6rem 1.4rem; }
.formula { margin: 0; line-height: 1.6; }
.missing { margin-top: 0.7rem; }
.missing summary { color: var(--faint); font-size: 0.875rem; cursor: pointer; width: max-content; max-width: 100%; padding: 0.15rem 0; }
.missing[open] { margin-left: 0; }
[aria-current="true"] { background: var(--wash); box-shadow: -0.35rem 0 0 var(--wash), -0.55rem 0 0 var(--link); }

.values .group th { padding: 0.9rem 0 0.15rem; font-weight: 600; }
.values .kept td.figure, .kept { color: var(--faint); font-style: italic; }
p.kept { margin-bottom: 1rem; }

.pairs tbody th { width: 12em; }
.ticks { list-style: none; padding-left: 0; }
.ticks li { padding: 0.25rem 0 0.25rem 2rem; text-indent: -2rem; border-bottom: 1px solid var(--rule); break-inside: avoid; }
.box { display: inline-block; width: 1.15em; height: 1.15em; line-height: 1.05; text-align: center; text-indent: 0; border: 1.5px solid currentColor; vertical-align: -0.2em; margin-right: 0.75rem; }
.cautions > div { margin-top: 0.6rem; break-inside: avoid; }
.cautions { columns: 22em; column-gap: 2.5rem; }
.cautions dt { font-weight: 600; }
figure { margin: 1.2rem 0; }
figure > svg { display: block; max-width: 100%; }
.drawing { font-size: 0.8125rem; line-height: 1; font-variant-numeric: tabular-nums lining-nums; color: var(--ink); }
.drawing.scaled { height: auto; font-size: 13px; }
figure[data-drawing^="tightening-order"] { max-width: 34rem; }
.drawing text { stroke: none; }
.drawing .strong { font-weight: 600; }
.drawing .note { fill: var(--faint); font-size: 1em; font-weight: 400; }
.drawing .plate { paint-order: stroke; stroke: var(--paper); stroke-width: 0.35em; stroke-linejoin: round; }
.drawing .ink { stroke-width: 1.6; }
.drawing .thin { stroke-width: 1; }
.drawing .faint { stroke: var(--rule); stroke-width: 1; }
.drawing .wash { fill: var(--wash); }
.drawing .open { fill: var(--paper); stroke-width: 1; }
figure[data-drawing^="spring-stack"], figure[data-drawing^="lash-deviations"] { display: inline-block; vertical-align: top; width: calc(50% - 1.75rem); min-width: min(100%, 21em); margin-right: 1.25rem; }
figcaption { color: var(--faint); font-size: 0.875rem; margin-top: 0.3rem; }

@media screen and (max-width: 54rem) {
  figure[data-drawing^="spring-stack"], figure[data-drawing^="lash-deviations"] { display: block; width: auto; margin-right: 0; }
  .sheet, #sheet > p { padding: 1.25rem 1rem 3rem; }
  h1 { font-size: 1.4rem; }
  .verdict { font-size: 1.125rem; }
  .values, .values tbody, .values tr, .values thead th, .values th, .values td { display: block; }
  .values tbody .label, .values tbody .figure, .values tbody .other { width: auto; }
  .values thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .values tbody { border-bottom: 1px solid var(--rule); padding: 0.3rem 0; }
  .values .group th { display: block; padding: 0.6rem 0 0; }
  .values tbody > tr:first-child { display: grid; grid-template-columns: 1fr auto; gap: 0 1rem; align-items: baseline; }
  .values th, .values td { padding-top: 0; padding-bottom: 0; padding-right: 0; border: 0; }
  .values tr td:empty { display: none; }
  .values tr .figure { grid-column: 2; max-width: 50vw; }
  .values tr .other { grid-column: 2; font-size: 0.9375rem; }
  .values tr .bounds { grid-column: 1 / -1; padding-left: 1.4rem; }
  .spread::before { content: "spread "; color: var(--faint); }
  .limit::before { content: "limit "; color: var(--faint); }
  .values .margin { display: inline; }
  .values tbody > .how { border: 0; }
  .how details[open] { margin: 0.3rem 0 0.5rem 1.4rem; }
  .pairs tbody th { width: 40%; }
  .records, .records tbody, .records tr, .records th, .records td { display: block; width: auto; text-align: left; }
  .records caption { display: block; }
  .records thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .records tr { padding: 0.4rem 0; }
  .records tbody th { font-weight: 600; }
  .records th, .records td { padding: 0.05rem 0; min-width: 0; }
  .wide .at { text-align: left; }
  .records td:empty { display: none; }
  .records td[data-head]::before { content: attr(data-head) ": "; color: var(--faint); }
  .readings th, .readings td { padding-right: 0.7rem; }
}

@media (forced-colors: active) {
  .drawing { --paper: Canvas; --ink: CanvasText; --faint: CanvasText; --rule: CanvasText; --wash: Canvas; }
  .drawing .faint:not([stroke-dasharray]) { stroke-dasharray: 1 4; }
  .verdict { border-left-color: CanvasText; }
  [aria-current="true"] { outline: 2px solid Highlight; }
}

@media print {
  @page { margin: 15mm 15mm 17mm; @bottom-right { content: counter(page) " / " counter(pages); font-size: 8.5pt; } }
  :root { color-scheme: light; }
  body { --paper: #fff; --ink: #000; --faint: #333; --rule: #999; --wash: #fff; --stop: #000; --warn: #000; --link: #000; font-size: 10pt; line-height: 1.35; }
  .sheet { max-width: none; padding: 0; }
  nav { display: none; }
  .wide { overflow: visible; }
  h1 { font-size: 17pt; }
  h2 { font-size: 12.5pt; margin-top: 18pt; border-top-width: 1.5pt; }
  .verdict { font-size: 12pt; }
  h3, caption { font-size: 10.5pt; }
  .note, .place, .words, thead th, .missing summary, figcaption, .drawing { font-size: 8.5pt; }
  .values thead .label { width: 24em; }
  .values thead .figure { width: 11.4em; }
  .values thead .other { width: 10.4em; }
  th, td { padding-top: 2pt; padding-bottom: 2pt; }
  .records, .records .place, .records thead th { font-size: 8pt; }
  .records th, .records td { padding-right: 0.5rem; }
  .records td.broken:not(:empty) { min-width: 4.5rem; }
  .wide .at { min-width: 3.5rem; }
  h2, h3, caption, thead { break-after: avoid; }
  tr, li, figure, .verdict, .facts { break-inside: avoid; }
  p, li, dd { orphans: 2; widows: 2; }
  thead { display: table-header-group; break-inside: avoid; }
  thead + tbody, .group + tbody, tbody tr:nth-child(2) { break-before: avoid; }
  thead th, thead td, tbody tr { border-bottom-width: 0.5pt; }
  .values .label { padding-left: 0; }
  .values tbody { break-inside: avoid; }
  .how:not(:has(details[open])) { display: none; }
  .values tbody > tr:first-child { border-bottom: 0.5pt solid var(--rule); }
  .how summary { display: none; }
  .missing::details-content { content-visibility: visible; display: block; height: auto; }
  .missing summary { list-style: none; }
}
`.trim();
