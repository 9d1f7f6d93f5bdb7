// The sections of the sheet in the order they are read. Knows their names, not what is computed for them.

export const SECTIONS = [
  { id: "bottom-end", title: "Bottom end" },
  { id: "breathing", title: "Breathing" },
  { id: "valve-gear", title: "Valve gear" },
  { id: "lash", title: "Lash" },
  { id: "fasteners", title: "Fasteners" },
  { id: "fuel-and-boost", title: "Fuel and boost" },
  { id: "order-of-work", title: "Order of work" },
  { id: "running-in", title: "Running-in" },
  { id: "runs-and-pulls", title: "Runs and pulls" },
  { id: "tune", title: "The tune" },
  { id: "parts", title: "Parts" },
  { id: "evidence", title: "Evidence" },
  { id: "sources", title: "Sources" },
  { id: "cautions", title: "Cautions" },
] as const;

export type SectionId = (typeof SECTIONS)[number]["id"];
