// Part kind: gasket or seal other than the head gasket.
import { figure, text } from "../row.ts";
import { partKind } from "../part.ts";
import { millimetres, minutes } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "seal",
  words: "Any gasket or seal but the head gasket.",
  several: true,
  keys: [
    text("joint", '"camshaft, front"', "What it seals.", { importance: "useful" }),
    figure("thickness", "length", "0.50 mm", "Its thickness.", { usual: millimetres(0.05, 10) }),
    figure("cure", "time", "12 h", "How long its sealant must set before oil or water.", { usual: minutes(0, 10000), importance: "rare" }),
  ],
});
