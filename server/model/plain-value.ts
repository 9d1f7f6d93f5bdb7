// A value in one line of plain words, as written. Knows values, not where they are shown.
import { formatQuantity } from "../quantity/display.ts";
import type { FigureValue, QuantityValue } from "./value.ts";

export function plainValue(value: FigureValue): string {
  switch (value.is) {
    case "quantity":
      return plainQuantity(value);
    case "word":
      return value.word;
    case "yes-no":
      return value.yes ? "yes" : "no";
    case "text": case "date": case "class":
      return value.text;
    case "order":
      return value.order.join("-");
    case "thread":
      return value.thread.text;
    case "stages":
      return value.stages.map(plainQuantity).join(", then ");
    case "name":
      return value.name.text;
    case "names":
      return value.names.map((name) => name.text).join(", ");
    case "file":
      return `"${value.path.text}"`;
    case "hole":
      return "…";
  }
}

export function plainQuantity(value: QuantityValue): string {
  return [formatQuantity(value.quantity), ...Object.values(value.qualifiers), ...value.clauses.map((c) => `${c.word} ${formatQuantity(c.quantity)}`)].join(" ");
}
