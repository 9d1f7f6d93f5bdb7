// A valve whose lash no shim of the kit puts right.
import { shimKit } from "../sheet/formulas/lash-setting.ts";
import { formatValue } from "../quantity/display.ts";
import { lashOf } from "./lash.ts";
import type { BuildRule } from "./rule.ts";
import { giver, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "shim-unavailable",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "No shim that can be had brings a valve's lash into what is asked for.",
    why: "The nearest shim may be the one that leaves the valve tight, and a tight valve burns.",
    limit: "The shim fitted, the lash measured and the lash to set give the thickness wanted, by the rocker's ratio where shim and feeler lie at its two ends. Of the sizes in the fitted kind or in the shop's drawer, one must bring the lash within the range asked for.",
    source: "lever geometry",
    remedy: "Have a shim ground to the thickness named, or find a kit with finer steps.",
    bad: `
use "shop.tappet"
engine fellside-385 {
  source: "workshop book"
  cylinders: 1
  valve-gear { actuation: finger; adjuster: shim; lash-at: cam; intake { rocker-ratio: 1.35; lash: 0.08 ± 0.01 mm cold } }
}

build moorside-2 on fellside-385 {
  measured shim on 2027-04-25 { intake: 2.60 mm }
  measured lash cold on 2027-04-25 { intake: 0.12 mm }
}
--- shop.tappet
shop combe-lane { shims { range: 2.00 .. 3.20 mm; step: 0.10 mm } }
`,
    good: `
use "shop.tappet"
engine fellside-385 {
  source: "workshop book"
  cylinders: 1
  valve-gear { actuation: finger; adjuster: shim; lash-at: cam; intake { rocker-ratio: 1.35; lash: 0.08 ± 0.02 mm cold } }
}

build moorside-2 on fellside-385 {
  measured shim on 2027-04-25 { intake: 2.60 mm }
  measured lash cold on 2027-04-25 { intake: 0.10 mm }
}
--- shop.tappet
shop combe-lane { shims { range: 2.00 .. 3.20 mm; step: 0.05 mm } }
`,
  },
  check({ build, sheet, report }) {
    for (const { side, asked, askedQuantity, path } of lashOf(build)) {
      const value = sheet.byId.get(`shim.${side}.new`);
      if (!value) continue;
      const digits = askedQuantity.shape === "single" ? askedQuantity.halfDigit : 0;
      const [low, high] = [askedQuantity.interval.low - digits, askedQuantity.interval.high + digits];
      const out = value.measured.flatMap((m) => {
        const at = m.readings.find((r) => r.path === path)?.location;
        const wanted = sheet.byId.get(`shim.${side}.wanted`)?.measured.find((w) => w.place === m.place)?.value.interval?.nominal;
        const lash = sheet.byId.get(`shim.${side}.new-lash`)?.measured.find((w) => w.place === m.place)?.value.interval?.nominal;
        if (!at || wanted === undefined || (lash !== undefined && lash >= low - 1e-9 && lash <= high + 1e-9)) return [];
        return [{ place: m.place || side, at, wanted, shim: m.value.interval?.nominal, lash }];
      });
      const [first, ...others] = out;
      if (!first) continue;
      const kit = shimKit(build);
      const mm = (x: number, decimals = 2) => formatValue(x, "length", askedQuantity.unit === "inch" ? "inch" : "millimetre", { decimals: askedQuantity.unit === "inch" ? decimals + 2 : decimals });
      const nearest = [...kit].sort((a, b) => Math.abs(a - first.wanted) - Math.abs(b - first.wanted))[0];
      const tight = nearest !== undefined && nearest !== first.shim ? `the nearest there is, ${mm(nearest)}, leaves it tight` : undefined;
      const loose = first.shim !== undefined && first.lash !== undefined ? `the nearest ${tight === undefined ? "there is" : "that does not"}, ${mm(first.shim)}, leaves ${mm(first.lash)}` : undefined;
      const who = first.place === side ? `The ${side} valve` : `The valve at ${first.place}`;
      report({
        message: `${who} wants a shim of ${mm(first.wanted, 3)}: ${[tight, loose].filter((t) => t !== undefined).join(", and ")}; ${giver(asked)} asks for ${written(asked)}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "valve has" : "valves have"} none either` : ""}. Have one ground to size.`,
        at: first.at, path: `shim.${side}.new`, related: [{ message: "The lash is asked for here.", at: asked.location }, ...others.map((o) => ({ message: `None either: ${o.place}.`, at: o.at }))],
      });
    }
  },
};
