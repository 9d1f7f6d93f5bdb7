/** The invented engine that the sheet's tests stand on, with a shaft, a gear and a build. */

export const DUNLIN = `
engine dunlin-18 "Ashdown Dunlin 1.8, 12-valve" {
  source: "workshop manual, section 6A"
  cylinders: 4
  cylinder-1: belt end
  firing-order: 1-3-4-2
  rotation: clockwise from belt end
  bore: 83.00 mm
  stroke: 82.00 mm
  rod-length: 138.5 mm
  stated-displacement: 1775 cc
  stated-compression: 9.4:1
  redline: 6500 rpm
  combustion {
    chamber: 44.6 cc
    piston-dish: 3.0 cc
    gasket-bore: 84.0 mm
    gasket-thickness: 0.80 mm crushed
    deck: 0.15 mm below
  }
  valve-gear {
    layout: sohc
    actuation: rocker
    adjuster: screw
    lash-at: valve
    gear-teeth: 38
    intake  { per-cylinder: 2; rocker-ratio: 1.50; lash: 0.15 ± 0.03 mm cold }
    exhaust { per-cylinder: 1; rocker-ratio: 1.45; lash: 0.30 ± 0.03 mm cold }
    valve-spring { wire: 3.8 mm; mean-diameter: 24.0 mm; active-coils: 5.2; seat-height: 38.0 mm; seat-load: 240 N; solid-height: 27.4 mm }
  }
  fastener cam-cap { thread: M8x1.25; class: 8.8; count: 10; torque: 20 ± 2 N·m oiled; sequence: 5-6-3-4-7-8-1-2-9-10; numbering: "figure 6-12" }
  fastener head-bolt {
    thread: M11x1.5; class: 10.9; count: 10; length: 140 mm; grip: 118 mm
    tighten: 30 N·m oiled, then 55 N·m, then 90 deg
    method: to-yield
    sequence: 5-6-3-4-7-8-1-2-9-10; numbering: "figure 6-9"
    reuse: never
  }
}
`;

export const RIDGEWAY = `
part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 {
  source: "cam card in the box"
  intake  { duration: 236 deg crank; measured-at: 1.00 mm at valve; lobe-lift: 7.10 mm; centreline: 109 deg crank; lash: 0.20 ± 0.02 mm cold }
  exhaust { duration: 232 deg crank; measured-at: 1.00 mm at valve; lobe-lift: 7.00 mm; centreline: 113 deg crank; lash: 0.35 ± 0.02 mm cold }
}
part cam-gear vernier-18 for dunlin-18 { source: "leaflet"; adjustable: yes; mark-spacing: 1 deg crank; range: ± 8 deg crank }
card gear-bolt for dunlin-18 {
  source: "gear maker's leaflet"
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 58 N·m threadlocked; impact-tool: never }
}
`;

export const WREN = `
build wren-hill-2 "Wren hill-climb car, second season" on dunlin-18 {
  redline: 7300 rpm
  fit ridgeway-272
  fit vernier-18 { set: 3 deg crank retarded }
  follow gear-bolt
  lash { intake: 0.20 mm cold; exhaust: 0.35 mm cold }
}
`;
