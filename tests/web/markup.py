"""A page read as a browser reads it: what stands in it, and what the policy or the standard of HTML forbids."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from html.parser import HTMLParser

EMPTY = frozenset("area base br col embed hr img input link meta source track wbr path rect circle use".split())


@dataclass
class Markup(HTMLParser):
    """The ids, links, fields and texts of a page, and its faults."""

    ids: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    labels: list[str] = field(default_factory=list)
    fields: list[str] = field(default_factory=list)
    named: list[str] = field(default_factory=list)
    """Ids that others lead to: by url(), aria-labelledby, aria-describedby."""
    faults: list[str] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    _open: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        HTMLParser.__init__(self)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        if len(told) != len(attrs):
            self.faults.append(f"{tag} says something twice")
        for name, value in told.items():
            if name == "style" or name.startswith("on") or value.lower().startswith("javascript:"):
                self.faults.append(f"{tag} {name} is stopped by the policy")
            if value.startswith("url(#"):
                self.named.append(value[5:-1])
        is_data = told.get("type") == "application/json"  # of which nothing is run
        if tag == "script" and not is_data and not told.get("src", "").startswith("/static/"):
            self.faults.append("a script that is not a file of ours")
        if tag in ("style", "iframe", "object", "base"):
            self.faults.append(f"{tag} is stopped by the policy")
        self.ids += [told["id"]] if "id" in told else []
        self.links += [told[name] for name in ("href", "src", "action") if name in told]
        self.labels += [told["for"]] if "for" in told else []
        self.named += f"{told.get('aria-labelledby', '')} {told.get('aria-describedby', '')}".split()
        if tag in ("input", "select", "textarea") and told.get("type") != "hidden":
            self.fields.append(told.get("id", ""))
        if tag not in EMPTY:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in EMPTY:
            self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        if tag in EMPTY:
            return
        if not self._open or self._open.pop() != tag:
            self.faults.append(f"{tag} ends where it was not open")

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    @property
    def text(self) -> str:
        """What is read of it."""
        return " ".join(" ".join(self.texts).split())


def read(html: str) -> Markup:
    """A page that was read to its end; everything that is wrong with it stands in `faults`."""
    page = Markup()
    page.feed(html)
    page.close()
    ids, labels = Counter(page.ids), set(page.labels)
    page.faults += [f"{tag} is never ended" for tag in page._open]
    page.faults += [f"the id {each} stands twice" for each, count in ids.items() if count > 1]
    page.faults += [f"the field {each} has no label" for each in page.fields if each not in labels]
    page.faults += [f"{each} is named but not there" for each in page.named if each not in ids]
    page.faults += [
        f"{each} leads away" for each in page.links if not each.startswith(("/", "#", "?")) or each[:2] == "//"
    ]
    return page
