// Rows of a recording that are not as they should be: cut short, unreadable, out of order.
import type { Doubt } from "../recording/summary.ts";
import { recordedIn } from "./recorded.ts";
import type { BuildRule } from "./rule.ts";
import { allOf } from "./wording.ts";

export const RULE: BuildRule = {
  id: "recording-doubtful",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "Some rows of a recording could not be read as they should be.",
    why: "Rows that are cut short or out of order hide what happened in them, and a channel that says a word in place of a figure has a sensor that is off.",
    limit: "Any row with fewer or more cells than the headings, the last one excepted; any cell that is neither a figure nor empty; time that goes backwards; a heading that is there twice.",
    source: "the definition of the language",
    remedy: "Look at the line that is named. Cut the file where two recordings were joined, or export it again.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  log "runs/hill.csv" on 2027-06-12 { time: "Time"; rpm: "RPM" }
}
--- runs/hill.csv
Time (s),RPM
0.00,3000
0.05,err
0.10,3080
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  log "runs/hill.csv" on 2027-06-12 { time: "Time"; rpm: "RPM" }
}
--- runs/hill.csv
Time (s),RPM
0.00,3000
0.05,
0.10,3080
`,
  },
  check({ build, report }) {
    for (const { recording, summary } of recordedIn(build)) {
      if (summary.doubts.length === 0) continue;
      report({ message: `"${recording.path.text}" has ${allOf(summary.doubts.map(wordsOf))}. Look there, and export it again where it matters.`, at: { tree: build.subject.tree, span: recording.path.span } });
    }
  },
};

function wordsOf({ sort, count, line, text }: Doubt): string {
  const where = count === 1 ? `at line ${line}` : `the first at line ${line}`;
  switch (sort) {
    case "ragged": return `${count} ${count === 1 ? "row" : "rows"} with too few or too many cells (${where})`;
    case "unreadable": return `${count} ${count === 1 ? "cell" : "cells"} that ${count === 1 ? "is" : "are"} no figure ("${text ?? ""}", ${where})`;
    case "backwards": return `time that goes backwards ${count === 1 ? "once" : `${count} times`} (${where})`;
    case "twice": return `a heading that is there twice ("${text ?? ""}": the first one was read)`;
  }
}
