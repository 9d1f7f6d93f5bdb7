// A torque that clamps a bolt past its proof load.
import { wordAt } from "../model/effective.ts";
import { type FinalTorque, askedTorque, finalTorque } from "../model/tightening.ts";
import { formatBand } from "../quantity/display.ts";
import { amount } from "./amount.ts";
import { bandOf, standing } from "./band.ts";
import { changedLoad } from "./lubricant.ts";
import type { BuildRule } from "./rule.ts";
import { torqueText } from "./wording.ts";

export const RULE: BuildRule = {
  id: "torque-over-proof",
  scope: "build",
  on: ["build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "A torque of the builder's own clamps a bolt past its proof load or its yield.",
    why: "A bolt past its proof load stays longer than it was: it loses its clamp load, and breaks one day.",
    limit: "The clamp load, from the torque, the friction of the lubrication and the error of the wrench, against the proof load of thread and class; and the stress while the bolt is also twisted, against its yield. Error when the nominal load passes, warning when only the top of the band does. A maker's own torque, or one inside the maker's range, is shown on the sheet and never judged by this band; a bolt tightened to yield is meant to go there.",
    source: "ISO 898-1 and SAE J429 for proof and yield; ISO 16047 and VDI 2230 for torque and friction",
    remedy: "Take the maker's torque for this bolt, or less.",
    cautions: ["tightening"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; class: 8.8 }
}

build wren-hill-2 on dunlin-18 {
  fastener cam-cap { torque: 45 N·m oiled }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; class: 8.8 }
}

build wren-hill-2 on dunlin-18 {
  fastener cam-cap { torque: 16 N·m oiled }
}
`,
  },
  check({ build, sheet, report }) {
    for (const name of build.fasteners) {
      if (wordAt(build, `fastener.${name}.method`) === "to-yield") continue;
      const own = finalTorque(build, name);
      if (!own || own.provided.role !== "chosen" || isWithinAsked(own, askedTorque(build, name))) continue;
      const proof = sheet.byId.get(`${name}.proof-fraction`);
      const yielding = sheet.byId.get(`${name}.yield-fraction`);
      const past = [
        { value: proof, words: "proof load", path: `${name}.proof-fraction` },
        { value: yielding, words: "yield while it is turned", path: `${name}.yield-fraction` },
      ].flatMap((p) => (p.value?.interval && p.value.interval.high > 1 ? [{ ...p, interval: p.value.interval }] : []));
      const worst = past.find((p) => p.interval.nominal > 1) ?? past[0];
      if (!worst) continue;
      const sure = worst.interval.nominal > 1;
      // The maker's own torque on another lubricant: what that makes of it is said once, by its cause.
      if (!sure && changedLoad(build, name)) continue;
      const clamp = sheet.byId.get(`${name}.clamp-load`)?.interval;
      const band = clamp ? `, a clamp load of ${formatBand(clamp, "force", "kilonewton")}` : "";
      const loads = sure ? `loads \`${name}\` to about ${percent(worst.interval.nominal)} of its ${worst.words}` : `may load \`${name}\` to ${percent(worst.interval.high)} of its ${worst.words} where friction is lowest`;
      report({
        message: `${torqueText(own)} ${loads}${band}. Take the maker's torque, or less.`,
        at: own.at, path: worst.path, ...amount("more", sure ? worst.interval.nominal : worst.interval.high, "fraction", "percent"), severity: sure ? "error" : "warning",
        related: (worst.value?.from ?? []).filter((l) => l.span !== own.provided.location.span).slice(0, 4).map((l) => ({ message: "A figure it rests on.", at: l })),
      });
    }
  },
};

/** A torque inside what the maker asks for is the maker's figure, whoever wrote it down here. */
function isWithinAsked(own: FinalTorque, wanted: FinalTorque | undefined): boolean {
  return wanted !== undefined && wanted.turned === own.turned && wanted.value.qualifiers["lubrication"] === own.value.qualifiers["lubrication"]
    && standing(own.value.quantity, bandOf(wanted.value.quantity), own.value.quantity.halfDigit) === 0;
}

function percent(share: number): string {
  // Rounded away from the limit, so that 100.4 % never prints as 100 %.
  return `${Math.ceil(share * 100)} %`;
}
