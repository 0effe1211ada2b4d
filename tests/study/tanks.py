"""Small cases of a tank, by what matters for its quantity; everything else is left unknown."""

from __future__ import annotations

from onedatum.case.reading import read_case_text
from onedatum.study.result import Study
from onedatum.study.study import study

UPRIGHT = """
vessel:
  shape: vertical cylinder
  inside_diameter: {diameter}
  shell_length: {height}
  bottom_head: {{form: flat}}
  top_head: {{form: flat}}
  datum: lowest inside point
  deadwood: none
  shell_expansion: {expansion}
  table_temperature: {table_temperature}
  shell_temperature: {shell}
"""
LYING = """
vessel:
  shape: lying cylinder
  inside_diameter: 2000 mm
  shell_length: 5000 mm
  near_end: {form: flat}
  far_end: {form: flat}
  slope: none
  datum: lowest inside point
  deadwood: none
  shell_expansion: 0 1/K
  table_temperature: 20 degC
  shell_temperature: as liquid
"""


def upright(
    diameter: str = "4000 mm",
    height: str = "8 m",
    expansion: str = "0 1/K",
    table_temperature: str = "20 degC",
    shell: str = "as liquid",
) -> str:
    """An upright tank with flat ends."""
    return UPRIGHT.format(
        diameter=diameter, height=height, expansion=expansion, table_temperature=table_temperature, shell=shell
    )


def tank(*parts: str) -> Study:
    """The study of a case put together from its parts."""
    text = "onedatum: 1\ninvented: yes\n" + "\n".join(parts) + "\n"
    return study(read_case_text(text, "case.yaml"))


def number(found: Study, name: str) -> float:
    """A number of the sheet that must be known."""
    value = found.sheet[name].value
    assert value is not None, f"{name} waits for {found.sheet[name].waits_for}"
    return value
