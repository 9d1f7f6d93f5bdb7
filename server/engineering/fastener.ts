// One door to the five subjects of a bolt: thread, strength, friction, tightening, tool; it refuses to hold a formula of its own.

export * from "./bolt-strength.ts";
export * from "./friction-condition.ts";
export * from "./thread.ts";
export * from "./tightening.ts";
export * from "./torque-tool.ts";
