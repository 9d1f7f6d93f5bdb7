// A joint that is held together with less than its maker asks for: by the load that follows from the torque, or by the stretch that was measured.
import { asked, effective } from "../model/effective.ts";
import { askedTorque, finalTorque } from "../model/tightening.ts";
import { compareWithLimit, formatBand } from "../quantity/display.ts";
import { measuredReadings, placeWords } from "../sheet/measured.ts";
import { amount } from "./amount.ts";
import { bandOf, standing } from "./band.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, readingAt, torqueText, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "clamp-low",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A bolt holds its joint with less than its source asks for: by the clamp load that follows from the build's own torque, or by its measured stretch.",
    why: "A joint that is held too weakly slides and works: gaskets leak, caps walk, bolts that never yielded break from fatigue.",
    limit: "The source's `clamp-load`, against the middle of the band that the build's own torque gives; a maker's own torque is never condemned by that band, which is wide: friction alone makes the greatest load of a set about twice the least. The source's `stretch`, against every measured one, worst bolt first.",
    source: "the source's own figures; ISO 16047 for torque and friction",
    remedy: "Tighten to the source's torque with the lubricant it asks for; with a stretch gauge, on until the bolt has grown by what is asked.",
    cautions: ["tightening"],
    bad: `
engine dunlin-20 {
  source: "workshop manual"
  cylinders: 4
  fastener rod-bolt { thread: M9x1; class: 10.9; torque: 42 ± 2 N·m oiled; stretch: 0.14 .. 0.16 mm }
}

build wren-hill-3 on dunlin-20 {
  measured stretch for rod-bolt on 2027-03-01 { | bolt (mm) | 1 | 2 |
    | stretch | 0.15 | 0.12 | }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual"
  cylinders: 4
  fastener rod-bolt { thread: M9x1; class: 10.9; torque: 42 ± 2 N·m oiled; stretch: 0.14 .. 0.16 mm }
}

build wren-hill-3 on dunlin-20 {
  measured stretch for rod-bolt on 2027-03-01 { | bolt (mm) | 1 | 2 |
    | stretch | 0.15 | 0.14 | }
}
`,
  },
  check({ build, sheet, report }) {
    for (const name of build.fasteners) {
      const wanted = asked(build.slots.get(`fastener.${name}.clamp-load`));
      const least = quantityOf(wanted)?.quantity;
      const torque = finalTorque(build, name);
      const load = sheet.byId.get(`${name}.clamp-load`)?.interval;
      const maker = askedTorque(build, name);
      const asMaker = maker !== undefined && torque !== undefined && maker.value.qualifiers["lubrication"] === torque.value.qualifiers["lubrication"] && standing(torque.value.quantity, bandOf(maker.value.quantity), torque.value.quantity.halfDigit) === 0;
      if (wanted && least && torque?.provided.role === "chosen" && !asMaker && load && compareWithLimit(load.nominal, bandOf(least).low) < 0)
        report({
          message: `${torqueText(torque)} on \`${name}\` clamps ${formatBand(load, "force", least.unit ?? "kilonewton")}, and ${giver(wanted)} asks for ${written(wanted)}. Tighten it to the torque that goes with that load.`,
          at: torque.at, path: `${name}.clamp-load`, ...amount("less", load.nominal, "force", least.unit ?? "kilonewton"), related: [{ message: "It is asked for here.", at: wanted.location }],
        });
      const stretch = effective(build.slots.get(`fastener.${name}.stretch`));
      const grown = quantityOf(stretch)?.quantity;
      if (!stretch || !grown) continue;
      const band = bandOf(grown);
      const short = measuredReadings(build).filter((r) => r.path === `fastener.${name}.stretch` && compareWithLimit(r.interval.high, band.low) < 0);
      const [worst, ...others] = [...short].sort((a, b) => a.interval.nominal - b.interval.nominal);
      if (!worst) continue;
      const place = placeWords(worst.place);
      report({
        message: `${place === "" ? `A bolt of \`${name}\`` : `${place.charAt(0).toUpperCase()}${place.slice(1)} of \`${name}\``} has grown by ${readingAt(build, worst.location)} and ${giver(stretch)} asks for ${written(stretch)}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "is" : "are"} short too` : ""}. Tighten on until it has.`,
        at: worst.location, path: `${name}.stretch-load`, ...amount("less", worst.interval.nominal, "length", grown.unit), related: [{ message: "It is asked for here.", at: stretch.location }],
      });
    }
  },
};
