// The limits a maker, an engine or a builder sets, by the value they hold. Knows no limit itself: every figure here comes from the file.
import { figure } from "../row.ts";
import { bars, celsius, megapascals, metresPerSecond, millimetres, newtons, percent, plain, rpm } from "../spans.ts";
import type { BlockSchema } from "../types.ts";

export const LIMITS: BlockSchema = {
  id: "limits",
  words: "Limits that this maker or builder sets. They are used in place of the tool's own rule-of-thumb limits, and named as theirs.",
  base: "limits",
  keys: [
    figure("piston-speed", "speed", "20 m/s", "Greatest mean piston speed.", { usual: metresPerSecond(5, 35) }),
    figure("piston-acceleration", "acceleration", "30000 m/s²", "Greatest piston acceleration, at top dead centre.", { usual: plain(3000, 120000) }),
    figure("speed", "rotation", "7300 rpm", "Greatest engine speed.", { usual: rpm(1500, 20000) }),
    figure("squish", "length", "0.90 mm", "Least gap between piston crown and head.", { usual: millimetres(0.3, 3) }),
    figure("piston-valve-intake", "length", "2.0 mm", "Least gap between piston and intake valve.", { usual: millimetres(0.5, 5), importance: "useful" }),
    figure("piston-valve-exhaust", "length", "2.5 mm", "Least gap between piston and exhaust valve.", { usual: millimetres(0.5, 5), importance: "useful" }),
    figure("valve-to-valve", "length", "1.5 mm", "Least gap between an intake and an exhaust valve that pass each other.", { usual: millimetres(0.3, 5) }),
    figure("coil-bind-margin", "length", "1.5 mm", "Least spring travel that must be left before the coils touch.", { usual: millimetres(0.2, 6) }),
    figure("retainer-guide-margin", "length", "1.5 mm", "Least gap between retainer and guide or seal at full lift.", { usual: millimetres(0.2, 6) }),
    figure("spring-stress", "stress", "1000 MPa", "Greatest stress in the valve spring wire.", { usual: megapascals(300, 1600) }),
    figure("spring-load", "force", "900 N", "Greatest valve spring load at full lift.", { usual: newtons(50, 4000) }),
    figure("lift", "length", "11.0 mm", "Greatest valve lift.", { usual: millimetres(3, 25) }),
    figure("compression", "ratio", "10.5:1", "Greatest compression ratio.", { usual: plain(5, 20) }),
    figure("boost", "pressure", "0.6 bar gauge", "Greatest boost.", { qualifiers: ["pressure-reference"], usual: bars(0, 5) }),
    figure("charge-temperature", "temperature", "70 °C", "Greatest temperature of the charge entering the engine.", { usual: celsius(20, 200) }),
    figure("injector-duty", "fraction", "85 %", "Greatest share of its time that an injector may stay open.", { usual: percent(40, 100) }),
    figure("mixture", "mixture", "12.5 afr", "Leanest mixture allowed at full load.", { usual: plain(0.6, 16) }),
    figure("oil-pressure", "pressure", "2.5 bar", "Least hot oil pressure at the speed where it is judged.", { usual: bars(0.2, 10) }),
    figure("oil-temperature", "temperature", "130 °C", "Greatest oil temperature.", { usual: celsius(60, 180) }),
    figure("coolant-temperature", "temperature", "105 °C", "Greatest coolant temperature.", { usual: celsius(50, 140) }),
    figure("leak-down", "fraction", "20 %", "Greatest leakage of a cylinder in a leak-down test.", { usual: percent(2, 60) }),
    figure("cranking-spread", "fraction", "15 %", "Greatest spread between cylinders in a cranking test, as a share of the highest.", { usual: percent(2, 60) }),
    figure("lash-spread", "length", "0.05 mm", "Greatest spread of lash between valves of one kind.", { usual: millimetres(0.01, 0.3) }),
  ],
};
