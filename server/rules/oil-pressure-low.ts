// Oil pressure, as read, below what the engine's maker asks for at that speed.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, quantityAt } from "../model/effective.ts";
import { formatAgainst } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { oilPressureCurve, wantedOilPressure } from "../sheet/oil-pressure.ts";
import { figureOf, pullsOf, recordQuantity, rowsOf } from "../sheet/pull.ts";
import { amount, amountOf } from "./amount.ts";
import { recordsOf } from "./record.ts";
import { moreWords, passedIn, recordingWords, stretchWords } from "./recorded.ts";
import type { BuildRule } from "./rule.ts";
import { readingText, textAt } from "./wording.ts";

/** Share of the redline from which one figure for all speeds is held against a row. Common practice, no source. */
export const AT_SPEED = 0.5;

export const RULE: BuildRule = {
  id: "oil-pressure-low",
  scope: "build",
  on: ["build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "Oil pressure that was read is below what the engine's maker asks for at that speed.",
    why: "Bearings live on pressure: a worn pump, a stuck valve, thin or hot oil, or a bearing that is already gone shows here first.",
    limit: "The maker's own curve, a straight line between its points, nothing asked below the first; else `limits { oil-pressure: … }`, held against readings from half the redline up. Cold oil only reads higher, so that a low reading is low whatever the oil's temperature was. In a recording what counts lasts 0.3 s or its `dwell`, 10 s after the engine fired at the soonest. The old rule of 10 psi for each 1000 rpm is no limit: many engines stay below it by design.",
    source: "the maker's own curve or figure",
    remedy: "Stop the engine. Check the gauge with another one, then oil, level and pump; open it up before it runs again.",
    cautions: ["first-start", "hot"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
  fluids {
    oil-pressure {
      |  rpm | pressure (bar) |
      | 1000 |            1.0 |
      | 3000 |            2.5 |
      | 6000 |            4.0 |
    }
  }
}

build birkrigg-1 on dunlin-20 {
  measured oil-pressure on 2027-06-27 {
    |  rpm | pressure (bar) |
    | 1000 |            1.3 |
    | 4500 |            1.2 |
  }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
  fluids {
    oil-pressure {
      |  rpm | pressure (bar) |
      | 1000 |            1.0 |
      | 3000 |            2.5 |
      | 6000 |            4.0 |
    }
  }
}

build birkrigg-1 on dunlin-20 {
  measured oil-pressure on 2027-06-27 {
    |  rpm | pressure (bar) |
    | 1000 |            1.3 |
    | 4500 |            3.6 |
  }
}
`,
  },
  check({ build, report }) {
    for (const { recording, stretches, column, at } of passedIn(build, "oil", ["oil-pressure"])) {
      const { worst } = stretches;
      const shown = formatAgainst(worst.limit, worst.worst, "pressure", column?.unit);
      const unit = column?.unit ? ` ${spellingOfUnit(column.unit)}` : "";
      report({
        message: `In ${recordingWords(recording)} oil pressure was ${shown.limit}${unit} ${stretchWords(worst)}, less than the ${shown.value}${unit} that the engine asks for there${moreWords(stretches)}. Stop the engine and find the cause.`,
        at, path: "fluids.oil-pressure", ...amount("less", worst.worst, "pressure", column?.unit),
      });
    }
    const low = readings(build).flatMap((r) => {
      const least = r.rpm === undefined ? r.least : ownLimit(build, r.rpm);
      return least !== undefined && r.quantity.interval.nominal + r.quantity.halfDigit < least ? [{ ...r, short: least - r.quantity.interval.nominal, limit: least }] : [];
    }).sort((a, b) => b.short - a.short);
    const [worst, ...others] = low;
    if (!worst) return;
    const { quantity, limit, rpm } = worst;
    const shown = formatAgainst(limit, quantity.interval.nominal, "pressure", quantity.unit, quantity.decimals);
    const unit = quantity.unit ? ` ${spellingOfUnit(quantity.unit)}` : "";
    report({
      message: `Oil pressure was ${readingText(worst.at, quantity)}${rpm === undefined ? " at its lowest" : ` at ${Math.round(rpm)} rpm`}, less than the ${shown.value}${unit} that the engine asks for ${rpm === undefined ? "anywhere" : "there"}. Stop the engine and find the cause.`,
      at: worst.at, path: "fluids.oil-pressure", ...amountOf("less", quantity), related: others.map((o) => ({ message: `Low too: ${textAt(o.at)}${o.rpm === undefined ? "" : ` at ${Math.round(o.rpm)} rpm`}.`, at: o.at })),
    });
  },
};

interface OilReading {
  readonly quantity: Quantity;
  readonly at: Location;
  readonly rpm?: number;
  /** Where no speed was read: the least the maker asks for anywhere, Pa. */
  readonly least?: number;
}

function ownLimit(build: EffectiveBuild, rpm: number): number | undefined {
  const wanted = wantedOilPressure(build, rpm);
  if (!wanted?.owned) return undefined;
  const redline = quantityAt(build, "redline")?.quantity.interval.nominal;
  return oilPressureCurve(build).length > 0 || (redline !== undefined && rpm >= AT_SPEED * redline) ? wanted.interval.nominal : undefined;
}

/** Every oil pressure read on this engine as it is: measured, seen in runs, and in pulls. */
function readings(build: EffectiveBuild): readonly OilReading[] {
  const { tree } = build.subject;
  const curve = oilPressureCurve(build);
  const anywhere = curve.length > 0 ? Math.min(...curve.map((p) => p.pressure)) : undefined;
  const rows = (table: Parameters<typeof rowsOf>[0], column: string) => rowsOf(table).flatMap(({ rpm, cells }): OilReading[] => {
    const cell = cells.get(column);
    return cell?.quantity ? [{ rpm, quantity: cell.quantity, at: { tree, span: cell.span } }] : [];
  });
  return [
    ...build.measured.filter((m) => m.what.text === "oil-pressure" && !m.qualifiers.some((q) => q.text === "before")).flatMap((m) => rows(m, "pressure")),
    ...recordsOf(build, "run").flatMap((run): OilReading[] => {
      const quantity = recordQuantity(run, "oil-pressure")?.quantity;
      const span = figureOf(run, "oil-pressure")?.span;
      return [...rows(run, "oil-pressure"), ...(quantity && span && anywhere !== undefined ? [{ quantity, at: { tree, span }, least: anywhere }] : [])];
    }),
    ...pullsOf(build).flatMap((pull) => rows(pull.record, "oil-pressure")),
  ];
}
