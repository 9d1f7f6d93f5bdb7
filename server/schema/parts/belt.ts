// Part kind: timing belt, chain or drive belt.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { kilometres, millimetres, plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "belt",
  words: "A belt or chain: timing or drive.",
  several: true,
  keys: [
    choice("drives", { camshaft: "The camshaft.", blower: "The blower.", ancillaries: "Pump, generator, fan." }, "camshaft", "What it drives.", { importance: "useful" }),
    figure("teeth", "count", "124", "Teeth or links.", { usual: plain(20, 400), importance: "rare" }),
    figure("tension", "frequency", "75 Hz", "Note it sounds when plucked, engine cold.", { usual: plain(10, 500), importance: "rare" }),
    figure("slack", "length", "6 mm", "How far it gives at the middle of its longest run.", { usual: millimetres(1, 30) }),
    figure("life", "distance", "60000 km", "Distance after which it is renewed.", { usual: kilometres(500, 500000) }),
  ],
  cautions: ["timing-drive", "rotating"],
});
