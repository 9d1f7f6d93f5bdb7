// The engineering floor: physics as pure functions in SI; it refuses to know files, syntax, units as written, or any engine.
//
// Conventions, kept by every module here:
// - Lengths m, areas m², volumes m³, masses kg, forces N, torques N·m, pressures Pa (absolute unless a name says gauge),
//   temperatures K, times s, flows kg/s or m³/s. Angles are degrees and named …Deg, crank degrees unless the name says Cam.
//   Shaft speeds are rpm and named so. Shares and ratios are pure numbers (0.85, not 85).
// - Parameters are named. Functions are total: outside their domain they return NaN and never throw; ask `isComputed`.
//   Look-ups by a free name return `undefined` for a name they do not hold.
// - A limit or table carries its provenance (provenance.ts). A computed limit is never permission to run anything.

export * from "./air.ts";
export * from "./boost.ts";
export * from "./bottom-end.ts";
export * from "./cylinder-tests.ts";
export * from "./domain.ts";
export * from "./fastener.ts";
export * from "./fits.ts";
export * from "./fuel.ts";
export * from "./gearing.ts";
export * from "./lash-setting.ts";
export * from "./lobe-table.ts";
export * from "./piston-valve.ts";
export * from "./power.ts";
export type * from "./provenance.ts";
export * from "./running-in.ts";
export * from "./valve-events.ts";
export * from "./valve-lift.ts";
export * from "./valve-spring.ts";
