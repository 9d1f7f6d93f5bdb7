// One set of bolts, studs or nuts that share a job: what they are, how they are tightened, what is asked for. Knows no friction and no load.
import { choice, date, figure, plainKey, REMARK, SOURCE, text, yesNo } from "./row.ts";
import { MATERIALS } from "./engine/combustion.ts";
import { degrees, gigapascals, kilometres, megapascals, millimetres, newtonMetres, newtons, plain, shareOf } from "./spans.ts";
import type { BlockSchema } from "./types.ts";

/** How a bolt is brought to its load. */
export const METHODS = {
  torque: "By torque alone.",
  angle: "By a snug torque and then an angle, below yield.",
  "to-yield": "By torque and angle until the bolt yields: it is used once, unless its maker says otherwise.",
  stretch: "By measuring how much longer the bolt gets.",
} as const;

export const FASTENER: BlockSchema = {
  id: "fastener",
  words: "A set of bolts, studs or nuts that share one job: thread, strength, and how they are tightened.",
  keys: [
    plainKey("thread", "thread", "M10x1.25", "Thread: M and diameter x pitch, or an inch size and its threads to the inch.", { importance: "essential" }),
    plainKey("class", "class", "10.9", "Property class marked on the head of a metric bolt.", { importance: "essential" }),
    plainKey("grade", "class", "grade 8", "Grade of an inch bolt, told by the lines on its head.", { importance: "useful" }),
    figure("count", "count", "10", "How many there are.", { usual: plain(1, 100), importance: "essential" }),
    figure("torque", "torque", "20 ± 2 N·m oiled", "Final torque, and what is on the thread when it is read.", { qualifiers: ["lubrication"], usual: newtonMetres(0.5, 700), importance: "essential" }),
    plainKey("tighten", "stages", "30 N·m oiled, then 55 N·m, then 90 deg", "Stages of tightening, in order: torques first, then angles.", { qualifiers: ["lubrication"], importance: "essential" }),
    choice("method", METHODS, "to-yield", "How the bolt is brought to its load.", { importance: "useful" }),
    plainKey("sequence", "order", "5-6-3-4-7-8-1-2-9-10", "Order of tightening, by the numbers on the drawing.", { importance: "useful" }),
    plainKey("loosen", "order", "10-9-2-1-8-7-4-3-6-5", "Order of loosening, where it is not the tightening order turned round.", { importance: "rare" }),
    text("numbering", '"figure 6-9"', "Where the drawing with these numbers is.", { importance: "useful" }),
    choice("reuse", {
      never: "New ones every time.",
      measured: "Again, while they measure within their length.",
      once: "Once more, then new.",
      yes: "Again, after a look.",
    }, "never", "Whether these may be used again.", { importance: "useful" }),
    date("renewed", "The day the last new ones went in.", { importance: "rare" }),
    choice("impact-tool", { never: "Hand tools and a torque wrench only.", "to-remove": "For taking off only.", allowed: "The maker allows it." }, "never", "Whether an impact tool may touch them.", { importance: "useful" }),
    text("lubricant", '"engine oil on thread and head"', "What exactly goes on the thread and under the head.", { importance: "rare" }),
    yesNo("washer", "Whether a hard washer goes under what is turned.", { importance: "rare" }),
    choice("turned", { head: "The head is turned.", nut: "The nut is turned." }, "head", "What the wrench turns.", { importance: "rare" }),
    figure("length", "length", "140 mm", "Length under the head.", { usual: millimetres(4, 600), importance: "useful" }),
    figure("max-length", "length", "141.5 mm", "Longest that a used one may measure.", { usual: millimetres(4, 600), importance: "useful" }),
    figure("grip", "length", "118 mm", "Length clamped: from under the head to where the thread takes hold.", { usual: millimetres(1, 600), usualPer: [shareOf(".length", "the length", 0.15, 1)], importance: "useful" }),
    figure("shank-length", "length", "80 mm", "Length of plain shank within the grip; the rest of it is thread.", { usual: millimetres(0, 600), importance: "rare" }),
    figure("shank-diameter", "length", "10.0 mm", "Diameter of the plain shank: for waisted bolts the thinnest place.", { usual: millimetres(2, 40) }),
    figure("head-diameter", "length", "16.0 mm", "Outside diameter of what bears under the head or flange.", { usual: millimetres(4, 60), aliases: ["bearing-diameter"] }),
    figure("hole-diameter", "length", "11.0 mm", "Diameter of the clearance hole.", { usual: millimetres(2, 45) }),
    figure("proof-stress", "stress", "1100 MPa", "Proof stress, where the maker of a special bolt states it.", { usual: megapascals(150, 2200) }),
    figure("yield-stress", "stress", "1240 MPa", "Yield stress, where the maker of a special bolt states it.", { usual: megapascals(150, 2500) }),
    figure("modulus", "stress", "205 GPa", "Stiffness of the bolt's material.", { usual: gigapascals(60, 230), importance: "rare" }),
    figure("clamp-load", "force", "30 .. 38 kN", "Clamp load that the maker asks for.", { usual: newtons(200, 200000), importance: "rare" }),
    figure("stretch", "length", "0.14 .. 0.16 mm", "How much longer the bolt must get.", { usual: millimetres(0.02, 2), importance: "useful" }),
    figure("joint-stiffness", "ratio", "4", "Stiffness of what is clamped, against the bolt's own.", { usual: plain(0.5, 20), importance: "rare" }),
    choice("tapped-into", MATERIALS, "aluminium", "What the thread is cut in.", { importance: "useful" }),
    figure("engagement", "length", "18 mm", "Length of thread that is really in hold.", { usual: millimetres(2, 100), importance: "useful" }),
    figure("tapped-strength", "stress", "180 MPa", "Shear strength of what the thread is cut in, where its maker or a table gives it.", { usual: megapascals(50, 800), importance: "rare" }),
    figure("prevailing-torque", "torque", "2 N·m", "Torque that a locking thread itself resists with before anything is clamped. The torque that is asked for is taken as what the wrench reads, this included.", { usual: newtonMetres(0, 50), importance: "rare" }),
    figure("recheck-after", "distance", "500 km", "When it must be tightened again.", { usual: kilometres(0, 5000) }),
    figure("extension", "length", "60 mm", "Length of an adapter that carries the wrench past its square, in line with it.", { usual: millimetres(0, 400), importance: "rare" }),
    figure("extension-angle", "angle", "0 deg", "Angle between that adapter and the wrench.", { usual: degrees(0, 180), importance: "rare" }),
    figure("wrench-length", "length", "400 mm", "Length of the wrench that carries the adapter, middle of the square to middle of the grip, where the shop does not give it.", { usual: millimetres(50, 1500), importance: "rare" }),
    SOURCE,
    REMARK,
  ],
  statements: ["note", "photo", "document"],
  blocks: {
    positions: {
      id: "positions",
      words: "Where each bolt sits on the joint, to draw the tightening order on a plan.",
      keys: [],
      table: {
        words: "Number of the bolt and its place, from any corner.",
        form: "columns",
        columns: [
          figure("bolt", "count", "1", "Number of the bolt in the sequence's numbering.", { usual: plain(1, 100), required: true }),
          figure("x", "length", "12 mm", "Place along the joint.", { usual: millimetres(-2000, 2000), required: true }),
          figure("y", "length", "40 mm", "Place across the joint.", { usual: millimetres(-2000, 2000), required: true }),
        ],
        example: "| bolt | x (mm) | y (mm) |",
      },
    },
  },
};
