// A lobe measured point by point, out of a file of its own: which column is which, and what stops it from being read. Knows no side's figures.
import { type UnitId, unitOfSpelling } from "../../grammar/vocabulary.ts";
import { unitFits } from "../quantity/kinds.ts";
import { type ColumnHead, figureIn, headOf, readSeparated } from "../quantity/separated.ts";
import { toBase } from "../quantity/units.ts";
import { type LobeTable, mostLobeReadings as MOST_LOBE_ROWS } from "../engineering/lobe-table.ts";

export interface LobeFile {
  /** Degrees as counted in the file, metres as read; the line each stands on beside it. */
  readonly points: LobeTable;
  readonly lines: readonly number[];
  readonly degrees?: "cam" | "crank";
  readonly at?: "valve" | "lobe";
}

const ANGLE_WORDS = ["angle", "degree", "degrees", "deg", "°"] as const;

const says = (head: ColumnHead, ...words: readonly string[]): boolean => head.words.some((w) => words.includes(w.toLowerCase()));

/**
 * Reads the angle and the lift of a side. Where the file has several columns of lift, the one whose heading names the side counts.
 * What cannot be read completes "… ": "has no column of angles".
 */
export function readLobeFile(text: string, side: string): LobeFile | { readonly problem: string } {
  const { rows, decimal, cut } = readSeparated(text, MOST_LOBE_ROWS);
  if (cut) return { problem: `has more than ${MOST_LOBE_ROWS} rows, which no lobe needs: keep a reading a degree` };
  const couldBeHeads = rows.flatMap((row, i) => (row.cells.filter((cell) => cell !== "").length >= 2 && row.cells.every((cell) => figureIn(cell, decimal) === undefined) ? [i] : []));
  // A machine may write who measured what above its headings.
  const headerAt = couldBeHeads.find((i) => rows[i]?.cells.some((cell) => says(headOf(cell), ...ANGLE_WORDS))) ?? couldBeHeads[0] ?? -1;
  const header = rows[headerAt];
  if (!header) return { problem: "has no line of headings: begin it with `angle (deg crank), lift (mm at lobe)`" };
  const heads = header.cells.map(headOf);
  const angle = heads.findIndex((h) => says(h, ...ANGLE_WORDS));
  if (angle < 0) return { problem: "has no column of angles: head one `angle (deg crank)` or `angle (deg cam)`" };
  const lifts = heads.flatMap((h, i) => (i !== angle && says(h, "lift", "intake", "exhaust") ? [i] : []));
  const own = lifts.filter((i) => says(heads[i] as ColumnHead, side));
  const neutral = lifts.filter((i) => !says(heads[i] as ColumnHead, "intake", "exhaust"));
  const lift = own[0] ?? neutral[0];
  if (lift === undefined) return { problem: lifts.length > 0 ? `has no column of lift for the ${side} side` : "has no column of lift: head one `lift (mm at lobe)` or `lift (mm at valve)`" };
  const two = own.length > 0 ? own : neutral;
  if (two.length > 1) return { problem: `has ${two.length} columns that could be its lift: name the side in one of them, \`${side} lift (mm at lobe)\`` };
  const [angleHead, liftHead] = [heads[angle] as ColumnHead, heads[lift] as ColumnHead];
  if (!says(angleHead, "deg", "°", "degree", "degrees")) return { problem: `does not say what its column \`${angleHead.text}\` counts in: write \`angle (deg crank)\` or \`angle (deg cam)\`` };
  const unit = lengthUnit(liftHead);
  if (!unit) return { problem: `gives its column \`${liftHead.text}\` no unit: write \`lift (mm at lobe)\` or \`lift (in at lobe)\`` };
  const points: { deg: number; lift: number }[] = [];
  const lines: number[] = [];
  for (const { cells, line } of rows.slice(headerAt + 1)) {
    const [deg, height] = [figureIn(cells[angle] ?? "", decimal), figureIn(cells[lift] ?? "", decimal)];
    if (deg === undefined || height === undefined) {
      const bad = deg === undefined ? cells[angle] : cells[lift];
      return { problem: bad ? `has \`${bad.slice(0, 40)}\` for a figure in line ${line}` : `has a gap in line ${line}: an angle or a lift is not there` };
    }
    points.push({ deg, lift: toBase(height, unit) });
    lines.push(line);
  }
  const degrees = says(angleHead, "cam") ? "cam" : says(angleHead, "crank") ? "crank" : undefined;
  const at = says(liftHead, "valve") ? "valve" : says(liftHead, "lobe", "cam") ? "lobe" : undefined;
  return { points, lines, ...(degrees && { degrees }), ...(at && { at }) };
}

function lengthUnit(head: ColumnHead): UnitId | undefined {
  for (const word of head.words) {
    const unit = word.toLowerCase() === "inch" || word.toLowerCase() === "inches" ? "inch" : unitOfSpelling(word);
    if (unit !== undefined && unitFits("length", unit)) return unit;
  }
  return undefined;
}
