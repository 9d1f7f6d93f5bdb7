// The looks of a comparison, on top of the sheet's: what was changed on the left, what follows on the right, one under the other where there is
// no room and on paper.

export const COMPARISON_CSS = `
.comparison { max-width: 84rem; }
.sides { display: grid; grid-template-columns: minmax(0, 5fr) minmax(0, 7fr); gap: 0 2.5rem; align-items: start; }
.sides h3 { margin-top: 1rem; border-bottom: 1px solid var(--ink); padding-bottom: 0.2rem; }
.causes { list-style: none; padding: 0; margin: 0; }
.causes > li { display: grid; grid-template-columns: 2rem minmax(0, 1fr); border-bottom: 1px solid var(--rule); padding: 0.4rem 0; break-inside: avoid; }
.causes > li:target, .causes > li.lit { background: var(--wash); }
.causes .number, a.cause { font-variant-numeric: tabular-nums lining-nums; }
.causes .number { font-weight: 600; }
a.cause { display: inline-block; min-width: 1.5rem; text-align: center; border: 1px solid var(--rule); border-radius: 0.15rem; text-decoration: none; line-height: 1.5; }
.was, .is { display: block; padding-left: 3.75rem; text-indent: -3.75rem; font-variant-numeric: tabular-nums lining-nums; }
.was::before, .is::before { display: inline-block; width: 3.75rem; text-indent: 0; color: var(--faint); font-size: 0.875rem; }
.was::before { content: "before"; }
.is::before { content: "now"; }
.follows { width: 100%; }
.follows th[scope="row"] { width: 42%; }
.follows .by { text-align: right; white-space: nowrap; }
.follows tr { break-inside: avoid; }
.follows tbody tr:first-child th[colspan] { padding-top: 1rem; }
.follows th[colspan] { font-weight: 600; }
.turn { font-weight: 600; }
@media (max-width: 60rem) { .sides { grid-template-columns: minmax(0, 1fr); } }
@media print { .comparison { max-width: none; } .sides { grid-template-columns: minmax(0, 1fr); } a.cause { border-color: #999; } }
`.trim();
