// A column that a `log` names and its file does not have, or not in a unit that can be told.
import type { Recording } from "../model/effective.ts";
import type { LostColumn } from "../recording/summary.ts";
import { KINDS, withArticle } from "../quantity/kinds.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { columnAt, recordedIn } from "./recorded.ts";
import type { BuildRule } from "./rule.ts";
import { allOf } from "./wording.ts";

const MOST_NAMED = 12;

export const RULE: BuildRule = {
  id: "recording-column-missing",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A recording does not have a column that is named, or does not say its unit.",
    why: "Recorders rename their channels with every update, and what is not read is not looked at. A pressure in a unit that somebody guessed is worse than none.",
    limit: "Headings are compared without case. The unit comes from the heading, from a row of units under it, or from the brackets of the heading in this file. Without one, time is taken as seconds, throttle and duty as per cent, and the sheet says so; pressures, temperatures, torque, power and road speed are not read.",
    source: "the definition of the language",
    remedy: "Name the column as the file does, and write its unit in brackets where the file does not say it: `\"Manifold (kPa)\"`.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  log "runs/hill.csv" on 2027-06-12 { time: "Time"; rpm: "Engine Speed" }
}
--- runs/hill.csv
Time (s),Engine RPM
0.00,3000
0.05,3040
0.10,3080
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  log "runs/hill.csv" on 2027-06-12 { time: "Time"; rpm: "Engine RPM" }
}
--- runs/hill.csv
Time (s),Engine RPM
0.00,3000
0.05,3040
0.10,3080
`,
  },
  check({ build, report }) {
    for (const { recording, summary } of recordedIn(build)) {
      const absent = summary.lost.filter((l) => l.why === "absent");
      if (absent.length > 0) {
        const near = absent.flatMap((l) => (l.found[0] === undefined ? [] : [{ heading: l.heading, found: l.found[0] }]));
        const asked = new Set(summary.columns.map((c) => c.heading));
        const free = summary.headings.filter((h) => !asked.has(h));
        const has = free.slice(0, MOST_NAMED).map((h) => `"${h}"`);
        const rest = free.length - has.length;
        report({
          message: `"${recording.path.text}" has no column ${allOf(absent.map((l) => `"${l.heading}"`))}. ${has.length === 0 ? "It has no others than those named" : `It has ${rest > 0 ? `${has.join(", ")} and ${rest} more` : allOf(has)}`}${near.length > 0 ? `: did you mean ${allOf(near.map((n) => `"${n.found}"`))}?` : ": name the one that is meant."}`,
          at: columnAt(build, recording, absent[0]?.key),
        });
      }
      for (const lost of summary.lost) if (lost.why !== "absent") report({ message: messageOf(recording, lost), at: columnAt(build, recording, lost.key) });
    }
  },
};

function messageOf({ path, question }: Recording, { key, heading, why, found }: LostColumn): string {
  const kind = question.columns.find((c) => c.key === key)?.kind ?? "number";
  const own = `Column "${found[0] ?? heading}" of "${path.text}"`;
  const unit = KINDS[kind].units[0];
  const example = `\`${key}: "${heading.replace(/(?<!\s)\s*[([].*$/s, "")} (${unit === undefined ? "" : spellingOfUnit(unit)})"\``;
  switch (why) {
    case "no-unit": return `${own} does not say its unit, so it was not read. Write it in brackets: ${example}.`;
    case "disagrees": return `${own} names another unit than "${heading}" here, so it was not read. Take the unit out here, or find out which is right.`;
    default: return key === "boost" || key === "manifold"
      ? `${own} is not ${key === "boost" ? "boost over the air outside" : "absolute manifold pressure"}, so it was not read as \`${key}\`. Name it under \`${key === "boost" ? "manifold" : "boost"}\`, or correct its unit.`
      : `${own} is in a unit that is not ${withArticle(KINDS[kind].words)}, so it was not read. Name the column that is meant.`;
  }
}
