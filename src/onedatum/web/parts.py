"""The parts of the case page as HTML, made in the worker: one study, every part from it."""

from __future__ import annotations

import gc
import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from functools import cache, cached_property
from hashlib import blake2b
from typing import Any

from jinja2 import Environment

from onedatum.foundation.errors import Fault
from onedatum.jobs.page.document import document_view
from onedatum.jobs.page.form import FormView, every_path, form_view
from onedatum.jobs.page.head import head_view
from onedatum.jobs.page.judge import judge_view
from onedatum.jobs.page.made import CaseText, Made, made_of
from onedatum.jobs.page.principles import principles_view
from onedatum.jobs.page.scales import page_scales
from onedatum.jobs.page.see import level_looked_at, see_view
from onedatum.jobs.page.signal import card_of
from onedatum.jobs.page.working import UnknownEntry, working_view
from onedatum.web.controls import Controls, FormHtml
from onedatum.web.templating import templates

PARTS = ("head", "card", "state", "see", "judge", "document")


COLLECTED_AFTER = 20_000
"""Objects more than before at which the collector looks for cycles: a page makes some thousands, and hardly a cycle."""


@dataclass(frozen=True)
class Asked:
    """What the browser asks for: the level looked at, the room it has for the ruler, the working that is open."""

    level: str = ""
    width_px: int = 680
    height_px: int = 640
    work: str = ""
    every: str = ""
    """The section of which every field is shown, also those that say nothing."""
    add: str = ""
    """The item that is added to a list, by its path."""
    tried: tuple[str, ...] = ()
    """Ways out that are tried and not kept, each as path=text."""
    beside: str = ""
    """The value of which is shown what stands beside it: its uncertainty, its ends, its basis."""


@dataclass(frozen=True)
class Page:
    """The frames of the parts of a page by name, the pieces that stand in them, and what stands beside them as data.

    Where a piece belongs, a frame says `<!--piece NAME-->`. No text of a user can say that: what it writes is escaped.
    """

    frames: Mapping[str, str]
    pieces: Mapping[str, str]
    marks: Mapping[str, str]
    """By the name of each frame and piece, also of those left out, a short text: another one where it is another."""
    data: Mapping[str, Any]

    @cached_property
    def html(self) -> dict[str, str]:
        """The parts as a whole."""
        return {name: PIECE.sub(lambda found: self.pieces[found[1]], frame) for name, frame in self.frames.items()}

    def news(self, has: Mapping[str, str]) -> Page:
        """The page without the frames and pieces that somebody has already, by their marks; the working always."""
        frames = {name: text for name, text in self.frames.items() if name == "work" or self._is_news(name, has)}
        pieces = {name: text for name, text in self.pieces.items() if self._is_news(name, has)}
        return replace(self, frames=frames, pieces=pieces)

    def told(self) -> dict[str, Any]:
        """The page as data: its parts as `html`, the `pieces` that belong where a part says so, the `marks` of all."""
        return {**self.data, "html": dict(self.frames), "pieces": dict(self.pieces), "marks": dict(self.marks)}

    def _is_news(self, name: str, has: Mapping[str, str]) -> bool:
        return has.get(name) != self.marks[name]


PIECE = re.compile("<!--piece ([^ ]+)-->")


def _mark(text: str) -> str:
    return blake2b(text.encode(), digest_size=8).hexdigest()


def prepare() -> None:
    """Load what a first page needs, before anybody waits for it; the collector then looks at what comes later only."""
    from onedatum.case.skeleton import skeleton

    page(CaseText(".", "new", skeleton(), ""), {}, Asked())
    gc.collect()
    gc.freeze()
    gc.set_threshold(COLLECTED_AFTER)


def page(case: CaseText, changes: Mapping[str, str | None], asked: Asked) -> Page:
    """Every part of the case page, of the case with what is tried on it."""
    made = made_of(case, changes)
    views = _views(made, changes, asked)
    frames = {name: _environment().get_template(f"{name}.html").render(**views) for name in PARTS}
    frames["work"] = working(made, asked.work) if asked.work else ""
    pieces = views["form_html"].pieces
    marks = {name: _mark(text) for name, text in {**frames, **pieces}.items()}
    return Page(frames, pieces, marks, _data(made, views))


def news(case: CaseText, changes: Mapping[str, str | None], asked: Asked, has: Mapping[str, str]) -> bytes:
    """The case page as JSON, without the frames and pieces that stand there already, by their marks.

    It is written here, in the worker, so that the server has only to pass it on.
    """
    told = page(case, changes, asked).news(has).told()
    return json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()


def working_of(case: CaseText, changes: Mapping[str, str | None], entry: str) -> str:
    """The working of one number; raises UnknownEntry."""
    made = made_of(case, changes)
    view = working_view(made.study, entry)
    return _environment().get_template("working.html").render(case=case, view=view)


def working(made: Made, entry: str) -> str:
    """The working that is open; that there is no such number, where there is none."""
    try:
        view = working_view(made.study, entry)
    except UnknownEntry as error:
        return _environment().get_template("no_working.html").render(case=made.case, sentence=str(error))
    return _environment().get_template("working.html").render(case=made.case, view=view)


def _views(made: Made, changes: Mapping[str, str | None], asked: Asked) -> dict[str, Any]:
    refused = {path: fault.sentence() for path, fault in made.refused.items()}
    typed = {path: text for path, text in changes.items() if path in made.refused}
    changed = frozenset(path for path, _ in made.changes)
    control, form = Controls(made.case.name, typed, refused, changed, asked.beside), form_view(made, asked.add)
    return {
        "case": made.case,
        "asked": asked,
        "refused": refused,
        "head": head_view(made),
        "form": form,
        "tried": _tried(made, asked, form),
        "form_html": FormHtml(control, form, asked.every),
        "judge": judge_view(made),
        "principles": principles_view(made),
        "signal": card_of(made),
        "papers": document_view(made),
        **_see(made, asked),
    }


def _tried(made: Made, asked: Asked, form: FormView) -> list[tuple[str, str, str]]:
    """What is tried and not kept: path, label, text; nothing that could not be read."""
    wanted = {each.partition("=")[0] for each in asked.tried}
    if not wanted:
        return []
    named = {each.path: each.ask.label for section in form.sections for each in every_path(section)}
    return [(path, named.get(path, path), text or "unknown") for path, text in made.changes if path in wanted]


def _see(made: Made, asked: Asked) -> dict[str, Any]:
    """The ruler with the level that is looked at; where that cannot be read, with the level of the case and why."""
    scales = page_scales(made.study)
    found = level_looked_at(made.study, scales, asked.level)
    level, fault = (None, found.sentence()) if isinstance(found, Fault) else (found, "")
    carry = [("work", asked.work)] if asked.work else []
    seen = see_view(made.study, asked.width_px, asked.height_px, level, scales)
    return {"see": seen, "fault": fault, "carry": carry}


def _data(made: Made, views: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "version": made.case.version,
        "order": made.study.order,
        "head": asdict(views["head"]),
        "refused": dict(views["refused"]),
    }


@cache
def _environment() -> Environment:
    return templates()
