// The text of parts as a builder would read it back, and the digits in them. Knows how figures are written, not what they are worth.
import { unitOfSpelling } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Part, UnitRef } from "../../grammar/tree.ts";

/** A part in canonical spacing, for messages. */
export function textOf(part: Part): string {
  switch (part.kind) {
    case "figure":
      return part.unit ? beside(part.digits.text, part.unit.text) : part.digits.text;
    case "range":
      return `${part.low ? `${textOf(part.low)} ` : ""}..${part.high ? ` ${textOf(part.high)}` : ""}`;
    case "tolerance": {
      const centre = part.centre ? `${textOf(part.centre)} ` : "";
      const [plus, minus] = [textOf(part.plus), textOf(part.minus)];
      return plus === minus ? `${centre}± ${plus}` : `${centre}+${plus} -${minus}`;
    }
    case "compare":
      return `${part.op} ${textOf(part.operand)}`;
    case "binary":
      return `${textOf(part.left)} ${part.op} ${textOf(part.right)}`;
    case "signed":
      return part.sign + textOf(part.operand);
    case "group": {
      const inner = `(${part.inner.map(textOf).join(" ")})`;
      return part.unit ? beside(inner, part.unit.text) : inner;
    }
    case "hole":
      return "…";
    case "string":
      return `"${part.text}"`;
    default:
      return part.text;
  }
}

/** Digits and unit with the space the trade puts between them: none before %, ° and their like. */
export function beside(digits: string, unit: string): string {
  return unit === "%" || unit === "°" ? digits + unit : `${digits} ${unit}`;
}

/** The last unit in the part: the one that applies back to figures without one. */
export function lastUnitIn(part: Part): UnitRef | undefined {
  switch (part.kind) {
    case "figure":
      return part.unit;
    case "range":
      return (part.high && lastUnitIn(part.high)) ?? (part.low && lastUnitIn(part.low));
    case "tolerance": {
      const own = [part.minus, part.plus].map(lastUnitIn).find((u) => u !== undefined && unitOfSpelling(u.text) !== "percent");
      return own ?? (part.centre && lastUnitIn(part.centre)) ?? lastUnitIn(part.plus);
    }
    case "compare":
    case "signed":
      return lastUnitIn(part.operand);
    case "binary":
      return lastUnitIn(part.right) ?? lastUnitIn(part.left);
    case "group":
      return part.unit ?? part.inner.map(lastUnitIn).findLast((u) => u !== undefined);
    default:
      return undefined;
  }
}

/** True when the part holds a figure, so that it can be read as a value. */
export function holdsFigure(part: Part): boolean {
  switch (part.kind) {
    case "figure":
    case "range":
    case "tolerance":
    case "compare":
    case "binary":
      return true;
    case "signed":
      return holdsFigure(part.operand);
    case "group":
      return part.inner.some(holdsFigure);
    default:
      return false;
  }
}

export function decimalsOf(digits: string): number {
  const point = digits.indexOf(".");
  if (point < 0) return 0;
  let end = point + 1;
  while (digits.charCodeAt(end) >= 48 && digits.charCodeAt(end) <= 57) end++;
  return end - point - 1;
}

export function unitIdOf(ref: UnitRef | undefined): UnitId | undefined {
  return ref && unitOfSpelling(ref.text);
}
