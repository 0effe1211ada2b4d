"""A small case of a stem in an upright tank, of an invented works: what the tests of stem and float change."""

from __future__ import annotations

from collections.abc import Mapping

STEM = """
onedatum: 1
invented: yes
tag: LT-1 (invented)
site: {g: 9.80665 m/s2, air_density: 1.2 kg/m3, atmospheric_pressure: 1.013 bar(a)}
vessel:
  shape: vertical cylinder
  inside_diameter: 2000 mm
  shell_length: 2500 mm
  bottom_head: {form: flat}
  top_head: {form: flat}
  datum: lowest inside point
  deadwood: none
  shell_expansion: 12e-6 1/K
  table_temperature: 20 degC
  shell_temperature: as liquid
nozzle:
  place: top, on the axis
  flange_face: {value: 150 mm, above: inside crown of top head}
  bore: 80 mm
  headroom_above_face: 4 m
medium:
  kind: liquid of stated density
  density: 850 kg/m3
  density_at: 20 degC
  expansion: none
  temperature: 20 degC
  viscosity: 2 mPa.s
  particles: free of particles
  gas_above: {kind: air, density: 0 kg/m3}
pressure: {operating: 0 bar(g)}
states:
  - name: normal
    instrument: fitted
instrument:
  principle: magnetostrictive float on a rigid stem
  build:
    surface: plain metal
    cartridge: fixed in the stem
    float: metal
    fixing: flange or thread
    head: with display
    place: in the tank
    dead_zones: usual
    hot_neck: no
  stem:
    outside_diameter: 12 mm
    metal: austenitic stainless steel
    tip_above_datum: 50 mm
    dead_zone_low: 80 mm
    dead_zone_high: 110 mm
  float:
    form: cylinder
    outside_diameter: 50 mm
    bore: 14 mm
    height: 60 mm
    mass: 75 g
    magnet_plane_above_bottom: centre
    nozzle_margin: none
    metal: austenitic stainless steel
    pressure_rating: 10 bar(g)
range: {4 mA: 200 mm, 20 mA: 2300 mm}
level_now: {value: 1500 mm, within: 0.5 mm}
datum_error: {value: 0 mm, within: 2 mm}
"""


def with_lines(text: str, changes: Mapping[str, str]) -> str:
    """The text with the first line of each key set anew; a key that is not there is a mistake of the test."""
    lines = text.splitlines()
    for key, value in changes.items():
        place = next(i for i, line in enumerate(lines) if line.strip().startswith(f"{key}:"))
        indent = lines[place][: len(lines[place]) - len(lines[place].lstrip())]
        lines[place] = f"{indent}{key}: {value}"
    return "\n".join(lines) + "\n"
