"""Limits of a site: what `check` says of bad ones, and those kept in a file beside the case.

The limits tried are those of the rules of this tool. That sites set limits otherwise, with a name and a reason, is
common practice, no source.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from onedatum.case.reading import read_case
from onedatum.jobs.check import faults_of
from onedatum.jobs.choosing.selection import selection_sheet
from onedatum.jobs.examine import examine
from onedatum.paper.choosing.as_pdf import selection_pdf
from onedatum.verdicts.rules import rule_base
from tests.cli.run import onedatum
from tests.jobs.judged import case_in, text_with_conditions
from tests.pdf import pages_of
from tests.study.variants import WITH_ISOLATOR, text_with

BESIDE = "\nchoosing: {file: site.yaml, entry: plant}\n"
VISCOSITY = "rule: magnetostrictive/viscosity, quantity: viscosity"
GOOD = f"{{{VISCOSITY}, was: 200 mPa.s, now: 3 mPa.s, said_by: process laboratory, reason: film seen to cling}}"
OF_STANDARD = "rule: magnetostrictive/hazardous-area, quantity: static.area_share, was: 1, now: 2"


def site(*rows: str) -> str:
    """A file of a site with these limits."""
    return "plant:\n  limits:\n" + "".join(f"    - {row}\n" for row in rows)


def folder_with(folder: Path, site_text: str | None, case_end: str = BESIDE) -> Path:
    """A case with scenario A's conditions that takes its site from a file beside it, where there is one."""
    if site_text is not None:
        (folder / "site.yaml").write_text(site_text, encoding="utf-8")
    return case_in(folder, text_with_conditions("A") + case_end)


def line_of(text: str, words: str) -> tuple[int, int]:
    """Line and column at which words stand, counted from 1."""
    at = text.index(words)
    return text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)


# ---------------------------------------------------------------- check

BAD = [
    (
        f"{{{VISCOSITY.replace('viscosity,', 'viscosityy,')}, was: 200 mPa.s, now: 1 Pa.s}}",
        "magn",
        "rule",
        "Nearest: m",
    ),
    (
        "{rule: magnetostrictive/viscosity, quantity: viscositi, was: 200 mPa.s, now: 1 Pa.s}",
        "viscositi",
        "quantity",
        "N",
    ),
    (
        "{rule: magnetostrictive/viscosity, quantity: foam.kind, was: 1, now: 2}",
        "foam.kind",
        "quantity",
        "told in words",
    ),
    (f"{{{VISCOSITY}, was: 201 mPa.s, now: 1 Pa.s}}", "201 mPa.s", "was", "It has: 200 mPa.s, 5000 mPa.s."),
    (f"{{{VISCOSITY}, was: 200 mPa.s, now: 300 mm}}", "300 mm", "now", "is a unit of length"),
    (f"{{{VISCOSITY}, was: 200 mPa.s, now: -1 mPa.s}}", "-1 mPa.s", "now", "0 mPa.s or more"),
    (f"{{{VISCOSITY}, was: 200 mPa.s, now: nan}}", "nan", "now", "finite"),
    (f"{{{VISCOSITY}, was: 200 mPa.s}}", "magn", "now", "got nothing"),
    ("{said_by: me, was: 200 mPa.s, now: 1 Pa.s, quantity: viscosity}", "me,", "rule", "for example magneto"),
    (f"{{{OF_STANDARD}}}", "magn", "reason", "setting it less safe needs a reason"),
    (f"{{{OF_STANDARD}, reason: none}}", "none", "reason", "setting it less safe needs a reason"),
    (f"{{{OF_STANDARD}, reason: unknown}}", "unknown", "reason", "setting it less safe needs a reason"),
]


@pytest.mark.parametrize(("row", "words", "key", "said"), BAD)
def test_check_names_a_bad_limit_with_line_column_and_remedy(
    row: str, words: str, key: str, said: str, tmp_path: Path
) -> None:
    text = site(row)
    outcome = onedatum("check", str(folder_with(tmp_path, text)))
    line, column = line_of(text, words)
    assert outcome.code == 2
    assert outcome.out.endswith(": 1 fault\n")
    assert f"site.yaml:{line}:{column}: choosing.limits[0].{key} must be " in outcome.err
    assert said in outcome.err


EMPTY = [
    "{}",
    "",
    "~",
    "unknown",
    "none",
    "just words",
    "[]",
    "{colour: red}",
    f"{{{VISCOSITY}, was: [1], now: {{a: b}}}}",
]


@pytest.mark.parametrize("row", EMPTY)
@pytest.mark.parametrize("key", ["limits", "instruments"])
def test_an_empty_or_odd_row_is_told_at_its_place_and_nowhere_else(row: str, key: str, tmp_path: Path) -> None:
    statement = read_case(folder_with(tmp_path, site(row).replace("limits", key)))
    told = faults_of(statement)
    assert told
    assert [str(fault) for fault in told if fault.place is None] == []
    assert {fault.path.split(".")[1].split("[")[0] for fault in told} == {key}
    assert tuple(examine(statement).faults) == told, "check and study say the same"


def test_check_names_every_bad_limit_in_one_pass_and_as_data(tmp_path: Path) -> None:
    case = folder_with(tmp_path, site(*(row for row, *_ in BAD)))
    told = json.loads(onedatum("check", str(case), "--json").out)[0]["faults"]
    assert [fault["path"] for fault in told] == [
        f"choosing.limits[{at}].{key}" for at, (_, _, key, _) in enumerate(BAD)
    ]
    assert {fault["place"]["file"] for fault in told} == {"site.yaml"}


def test_check_and_study_tell_a_bad_limit_of_a_case_that_judges_nothing(tmp_path: Path) -> None:
    text = text_with(example=WITH_ISOLATOR) + f"\nchoosing: {{limits: [{{{VISCOSITY}, was: 1 Pa.s, now: 2 Pa.s}}]}}\n"
    case = case_in(tmp_path, text)
    for command in ("check", "study"):
        outcome = onedatum(command, str(case))
        assert outcome.code == 2
        assert "choosing.limits[0].was must be a limit that the rule has" in " ".join(
            (outcome.err + outcome.out).split()
        )


def test_a_good_site_has_no_fault(tmp_path: Path) -> None:
    outcome = onedatum("check", str(folder_with(tmp_path, site(GOOD))))
    assert (outcome.code, outcome.err) == (0, "")


# ---------------------------------------------------------------- the file beside the case


def test_the_file_is_looked_for_beside_the_case_wherever_the_command_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "works").mkdir()
    (tmp_path / "elsewhere").mkdir()
    folder_with(tmp_path / "works", site(GOOD))
    monkeypatch.chdir(tmp_path / "elsewhere")
    study = examine(os.path.join("..", "works", "case.yaml"))
    assert study.faults == ()
    assert study.choosing is not None
    assert [done.override.said_by for done in study.choosing.site.overridden] == ["process laboratory"]
    assert study.statement.own_files == ("site.yaml",)


def test_what_the_file_holds_is_part_of_what_the_study_rests_on(tmp_path: Path) -> None:
    first = read_case(folder_with(tmp_path, site(GOOD))).content_hash
    assert read_case(folder_with(tmp_path, site(GOOD.replace("3 mPa.s", "4 mPa.s")))).content_hash != first


@pytest.mark.parametrize(
    ("end", "said"),
    [
        (BESIDE, "site.yaml must be a file that exists; got nothing there."),
        ("\nchoosing: {file: ../site.yaml, entry: plant}\n", "no path leads out of its folder"),
        ("\nchoosing: {file: /etc/hostname, entry: plant}\n", "no path leads out of its folder"),
        ("\nchoosing: {file: '', entry: plant}\n", "the name of a file beside the case"),
        ("\nchoosing: {file: site.yaml}\n", "named by both: {file: site.yaml, entry: plant}"),
        ("\nchoosing: {entry: plant}\n", "named by both: {file: site.yaml, entry: plant}"),
        ("\nchoosing: {file: [site.yaml], entry: plant}\n", "a file beside the case and an entry in it"),
    ],
)
def test_a_file_that_is_not_there_or_lies_elsewhere_is_named(end: str, said: str, tmp_path: Path) -> None:
    outcome = onedatum("check", str(folder_with(tmp_path, None, end)))
    assert outcome.code == 2
    assert said in " ".join(outcome.err.split()).replace("No path", "no path").replace("A section", "a section")
    assert outcome.out.endswith(": 1 fault\n")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "plant\n",
        "- plant\n",
        "plant: [",
        "plant: words\n",
        "plant: [1, 2]\n",
        "other: {}\n",
        "plant: {file: site.yaml, entry: plant}\n",
        "plant: &a {limits: [*a]}\n",
        "plant: {limits: " + "[" * 400 + "]" * 400 + "}\n",
        "plant: {limits: words, criteria: {a: b}, colour: red}\n",
        "plant: {limits: [{rule: '\x1b[2J', quantity: viscosity, was: 1 Pa.s, now: 2 Pa.s}]}\n".replace("\x1b", "\\e"),
        'plant: {limits: [{rule: "\\e[2J", quantity: viscosity, was: 1 Pa.s, now: 2 Pa.s}]}\n',
        "plant:\n  limits:\n" + "    - {rule: x, quantity: viscosity, was: 1 Pa.s, now: 2 Pa.s}\n" * 500,
        "plant: {criteria: [{criterion: prettiest}]}\n",
        "plant: \x00\n",
    ],
)
def test_hostile_content_is_told_with_its_place_and_the_rest_is_judged(text: str, tmp_path: Path) -> None:
    case = folder_with(tmp_path, text)
    outcome = onedatum("check", str(case))
    assert outcome.code == 2
    assert "\x1b" not in outcome.err
    assert "Traceback" not in outcome.err
    assert [line for line in outcome.err.splitlines() if ".yaml" not in line] == []
    found = examine(case)
    assert found.choosing is not None
    assert len(found.choosing.verdicts) == len(rule_base().principles)
    assert found.choosing.site.overridden == ()


def test_a_limit_of_the_file_counts_and_is_marked_on_every_verdict_it_touches(tmp_path: Path) -> None:
    """The viscosity of the case is 3.5 mPa.s: below 200 mPa.s nothing is due, above a limit of 3 mPa.s something is."""
    plain, case = examine(case_in(tmp_path, text_with_conditions("A"), "plain.yaml")), folder_with(tmp_path, site(GOOD))
    found = examine(case)
    name = "magnetostrictive/viscosity"
    judgements = []
    for study in (plain, found):
        assert study.choosing is not None
        verdict = study.choosing.verdicts["magnetostrictive"]
        judgements.append(next(each for each in verdict.judgements if each.rule.name == name).conditional)
    assert judgements == [False, True]
    told = json.loads(onedatum("study", str(case), "--json").out)["choosing"]
    marked = {rule["rule"] for each in told["principles"] for rule in each["rules"] if rule["limits_of_the_site"]}
    assert marked == {name}
    assert told["limits_of_the_site"][0]["said_by"] == "process laboratory"
    said = " ".join(onedatum("study", str(case), "--principle", "magnetostrictive").out.split())
    assert "set by the site: viscosity: limit 3 mPa.s in place of 200 mPa.s; lets less pass" in said
    assert "because film seen to cling" in said
    sheet = selection_sheet(found)
    assert sheet is not None
    cells = [(row.principle, at) for row in sheet.rows for at, cell in enumerate(row.cells) if cell.site]
    assert cells == [("Magnetostrictive float on a stem", rule_base().conditions.index("viscosity"))]
    reasons = [reason for each in sheet.principles for reason in each.reasons if reason.site]
    assert [reason.title for reason in reasons] == ["viscosity"]
    assert "said by process laboratory" in reasons[0].site


def test_less_safe_than_a_published_document_needs_a_reason_and_stands_on_the_first_page(tmp_path: Path) -> None:
    """The area that may charge, against IEC 60079-32-1 (from memory): a share of 1 of the limit."""
    bare = examine(folder_with(tmp_path, site(f"{{{OF_STANDARD}}}")))
    assert [fault.path for fault in bare.faults] == ["choosing.limits[0].reason"]
    assert bare.order == "blocked"
    assert bare.choosing is not None
    assert bare.choosing.site.overridden == (), "without a reason the limit stays that of the document"
    row = f"{{{OF_STANDARD}, said_by: plant manager, reason: the certificate allows it}}"
    sheet = selection_sheet(examine(folder_with(tmp_path, site(row))))
    assert sheet is not None
    assert sheet.faults == ()
    first = " ".join(pages_of(selection_pdf(sheet))[0].split())
    assert "Limits of published documents that the site sets less safe" in first
    assert "the certificate allows it" in first
    assert "plant manager" in first
