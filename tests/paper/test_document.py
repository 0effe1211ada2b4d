"""The paper: accessible, the same bytes every time, and whatever the user wrote stays text."""

import io
import subprocess
import sys
from dataclasses import replace
from math import nan
from typing import Any

import pytest
from pypdf import PdfReader

from onedatum.paper.document import document_data, document_pdf
from onedatum.paper.maths import settable
from onedatum.paper.model import Chapter, Entry, Finding, Head, Link, Mark, Note, Paper, Ruler
from onedatum.paper.text import coverage, printable
from onedatum.paper.vessel.model import Dimension, VesselDrawing
from tests.paper import sample, vessels
from tests.pdf import pages_of

HOSTILE = [
    '#evil[] <x> $ \\ " @ * _ ` ~ [ ] { } // /* */ = - + #sys.inputs #panic()',
    "日本-Ω⌀1",
    "x" * 10_000,
    "word " * 2000,
    "שלום עולם مرحبا بالعالم",
    "😀👩\u200d🔬🏳\ufe0f\u200d🌈",
    "line\nbreak\r\n\ttab\x00\x07\x1b",
    "\ud800\u202e\u2066\ufeff\u00ad",
    "",
]


def read(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


def words(pdf: bytes) -> str:
    """All text of all pages on one line; break opportunities are no text."""
    return " ".join(" ".join(pages_of(pdf)).split())


def filled_with(text: str) -> Paper:
    """A paper that carries the text wherever text can stand."""
    base = sample.paper()
    entry = Entry(text, text, text, "computed", text, text, text, (), text, text, text, text, True)
    return replace(
        base,
        head=Head(text, text, text, text, text, text, text, text, text, text, True),
        answer=text,
        blocking=text,
        ruler=replace(sample.ruler(), datum=text, marks=(*sample.marks(), Mark(text, 1.2, "alarm"))),
        findings=(Finding(text, text, (Link(text, text), Link(text, text)), (text,), True, False),),
        questions=(Note(text, text),),
        faults=(Note(text, text),),
        sheet=(Chapter(text, (entry,)),),
        cautions=(text,),
    )


def test_it_is_tagged_titled_and_declares_accessibility() -> None:
    pdf = document_pdf(sample.paper())
    reader = read(pdf)
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert reader.metadata is not None
    assert reader.metadata.title == "Spirit receiver A"
    assert b"pdfuaid:part" in root["/Metadata"].get_data()


def test_the_same_paper_gives_the_same_bytes() -> None:
    assert document_pdf(sample.paper()) == document_pdf(sample.paper())


def test_it_says_everything_it_was_given() -> None:
    text = words(document_pdf(sample.paper()))
    for said in (
        "Magnetostrictive float on stem suits.",
        "Order blocked: HH needs 19.51 mA, no reliable signal above 19.41 mA.",
        "invented example",
        "HH can never come",
        "uncertainty not stated",
        "decides load cells",
        "EPL Ga at the stem",
        "receiver.yaml:8:13",
        "rests on an assumed value",
        "derived and checked",
        "from memory",
        "checker not stated",
        "case 5d2e0c7bb1f94a1e",
        "onedatum 0.1.0",
        "page 1 of 3",
        "neither certificate nor inspection",
        "IEC 60228",
        "3134.7",
    ):
        assert said in text, said


def test_only_shipped_fonts_and_the_maths_font_are_in_it() -> None:
    names = set()
    for page in read(document_pdf(sample.paper())).pages:
        resources: Any = page["/Resources"].get_object()
        fonts = resources.get("/Font", {})
        names |= {str(fonts[name]["/BaseFont"]).split("+")[-1] for name in fonts}
    families = {name.split("-")[0] for name in names}
    assert {"SofiaSansSemiCondensed", "NewCMMath"} <= families
    assert families <= {"SofiaSansSemiCondensed", "NewCMMath", "DejaVuSans"}


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:12]))
def test_what_the_user_wrote_stays_text(text: str) -> None:
    pdf = document_pdf(filled_with(text))
    assert pdf.startswith(b"%PDF")
    assert len(read(pdf).pages) < 60


def test_a_very_long_tag_leaves_the_foot_of_the_page_one_line_high() -> None:
    data = document_data(filled_with("x" * 10_000))
    assert all(len(part.replace("\u200b", "")) <= 73 for part in data["foot"].values())


def test_markup_of_the_user_is_printed_as_written() -> None:
    text = words(document_pdf(replace(sample.paper(), answer="#evil[] <x> $a$ *b* @c")))
    assert "#evil[] <x> $a$ *b* @c" in text


def test_the_cautions_name_what_could_not_be_printed() -> None:
    paper = replace(sample.paper(), head=Head("日本-Ω⌀1"))
    text = words(document_pdf(paper))
    assert "[U+65E5][U+672C]-Ω⌀1" in text
    assert "cannot print; their codes stand for them: U+65E5, U+672C." in text


def test_every_character_that_is_called_printable_can_be_printed() -> None:
    points = sorted(frozenset().union(*coverage().values()))
    lines = tuple("".join(map(chr, points[i : i + 400])) for i in range(0, len(points), 400))
    marked = tuple(Note(line, line) for line in lines)
    assert document_pdf(Paper(Head("all"), answer="All.", questions=marked)).startswith(b"%PDF")


def test_an_empty_paper_is_a_paper() -> None:
    assert len(read(document_pdf(Paper(Head("")))).pages) == 1


def test_a_ruler_without_a_number_is_a_paper() -> None:
    empty = Paper(
        Head("x"), answer="y", ruler=Ruler("datum", ((nan, nan),), (), (Mark("a", nan, "alarm"),), level_m=nan)
    )
    assert "No drawing" in words(document_pdf(empty))


def test_sound_formulas_are_set_and_broken_ones_printed_as_text() -> None:
    sound, broken = 'V = "area" times h', ["sqrt((x", "#panic()", "foo(", "undefinedname", '"日本"', "a$b"]
    assert settable({sound, *broken}) == {sound}
    text = words(document_pdf(sample.paper()))
    assert "sqrt((x" in text
    assert "#panic()" in text


def test_a_formula_can_read_nothing_and_run_nothing() -> None:
    assert settable({'#read("paper.typ")', "#sys.inputs", "#while true {}"}) == set()


def test_the_drawing_and_every_formula_have_words_for_those_who_cannot_see_them() -> None:
    pdf = document_pdf(sample.paper())
    data = document_data(sample.paper())
    assert "HH no signal 2717 mm" in data["ruler"]["alt"]
    assert "Level 1850 mm" in data["ruler"]["alt"]
    alts = alternatives(read(pdf))
    assert any("Elevation of the vessel, half section" in alt for alt in alts)
    assert any("sqrt" in alt for alt in alts)


def test_the_vessel_from_the_side_is_printed_after_the_ruler_with_its_caption_and_words() -> None:
    plain, drawn = sample.paper(), replace(sample.paper(), vessel=vessels.SHAPES["lying 1:100"])
    first, second = pages_of(document_pdf(drawn))[:2]
    assert "4000 mm" not in first
    for said in ("The vessel", "Side elevation", "Section across", "4000 mm", "slope drawn true to scale", "Findings"):
        assert said in second, said
    assert "The vessel from the side and in section across at the gauge. Inside dimensions; one scale" in words(
        document_pdf(drawn)
    )
    alts = alternatives(read(document_pdf(drawn)))
    assert any("length between tangent lines 4000 mm" in alt for alt in alts)
    assert "Side elevation" not in words(document_pdf(plain))


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:12]))
def test_what_the_user_wrote_stays_text_in_the_drawing_of_the_vessel(text: str) -> None:
    vessel = replace(
        vessels.SHAPES["hopper"],
        marks=((text, 0.5), (text, 2.0)),
        deadwood=((text, 0.2, 1.0),),
        dimensions=(Dimension((-1.5, 1.0), (1.5, 1.0), "below", text, text),),
        level_words=text,
        slope=text,
    )
    paper = replace(sample.paper(), vessel=vessel)
    assert document_pdf(paper).startswith(b"%PDF")
    missing = [caution for caution in document_data(paper)["cautions"] if "cannot print" in caution]
    assert bool(missing) == bool(printable(text).missing)


def test_a_vessel_that_cannot_be_drawn_is_said() -> None:
    empty = replace(sample.paper(), vessel=VesselDrawing(((nan, 0.0),)))
    assert "No drawing: the shape of the vessel is not known" in words(document_pdf(empty))


def alternatives(reader: PdfReader) -> list[str]:
    """The alternative texts of the file's objects."""
    found: list[str] = []
    for i in range(1, len(reader.xref[0]) + 400):
        item = reader.get_object(i)
        if isinstance(item, dict) and "/Alt" in item:
            found.append(str(item["/Alt"]))
    return found


def test_importing_the_room_loads_no_typesetter() -> None:
    code = "import sys, onedatum.paper.document, onedatum.paper.maths; print('typst' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=path_only())
    assert done.stdout.strip() == "False"


def path_only() -> dict[str, str]:
    return {"PYTHONPATH": ":".join(p for p in sys.path if p)}
