// A small workspace of the invented Ashdown Dunlin, for tests that talk to a door.

export const ENGINE = `/// Stock engine, from the maker's workshop manual.
engine dunlin-18 "Ashdown Dunlin 1.8, 12-valve" {
  source: "workshop manual, section 6A"

  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
  rod-length: 138.5 mm
  stated-displacement: 1775 cc
  redline: 6500 rpm

  valve-gear {
    layout: sohc
    actuation: rocker
    adjuster: screw
    lash-at: valve
    gear-teeth: 38
    intake  { per-cylinder: 2; rocker-ratio: 1.50; lash: 0.15 ± 0.03 mm cold }
    exhaust { per-cylinder: 1; rocker-ratio: 1.45; lash: 0.30 ± 0.03 mm cold }
    valve-spring { wire: 3.8 mm; mean-diameter: 24.0 mm; active-coils: 5.2; seat-height: 38.0 mm; seat-load: 240 N; solid-height: 24.4 mm }
  }

  fastener cam-cap { thread: M8x1.25; class: 8.8; count: 10; torque: 20 ± 2 N·m oiled; sequence: 5-6-3-4-7-8-1-2-9-10 }
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 38 .. 42 ft-lb oiled }
}
`;

export const PARTS = `use "../engines/dunlin-18.tappet"

/// The sheet that came in the box with the shaft.
part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  intake  { duration: 236 deg crank; measured-at: 1.00 mm at valve; lobe-lift: 7.10 mm; centreline: 109 deg crank; lash: 0.20 ± 0.02 mm cold }
  exhaust { duration: 232 deg crank; measured-at: 1.00 mm at valve; lobe-lift: 7.00 mm; centreline: 113 deg crank; lash: 0.35 ± 0.02 mm cold }
  needs retainer
}

part camshaft marl-280 "Marl 280" for dunlin-20 { source: "leaflet" }

part cam-gear vernier-18 for dunlin-18 { source: "leaflet"; adjustable: yes; mark-spacing: 1 deg crank; range: ± 8 deg crank }

card gear-bolt for dunlin-18 {
  source: "gear maker's leaflet"
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 38 .. 42 ft-lb oiled }
}

engine dunlin-20 { source: "workshop manual"; cylinders: 4 }
`;

/** A build that lacks its retainers. */
export const BUILD = `use "../parts/ridgeway.tappet"

build wren-hill-2 "Wren hill-climb car" on dunlin-18 {
  redline: 7300 rpm

  fit ridgeway-272
  fit vernier-18 { set: 3 deg crank retarded }
  follow gear-bolt

  lash { intake: 0.20 mm cold; exhaust: 0.35 mm cold }
  measured piston-valve on 2027-03-15 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }

  check "cast pistons" piston-speed.mean <= 20 m/s
}
`;

export const FILES: Readonly<Record<string, string>> = {
  "engines/dunlin-18.tappet": ENGINE,
  "parts/ridgeway.tappet": PARTS,
  "builds/wren-hill-2.tappet": BUILD,
};
