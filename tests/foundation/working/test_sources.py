"""The register of sources: everything that is cited is in it, with the words that say what it is worth."""

from __future__ import annotations

import ast
import json
from importlib.resources import files
from typing import get_args

import pytest

from onedatum.foundation.errors import OnedatumError
from onedatum.foundation.sources import SourceTag, citation, sources
from onedatum.foundation.working import tag_of
from tests.house.tree import PACKAGE, modules
from tests.study.variants import study_with


def cited() -> list[str]:
    """Every text that the code hands over as a source."""
    found = set()
    for module in modules(PACKAGE):
        for node in module.nodes:
            match node:
                case ast.keyword(arg="source", value=ast.Constant(value=str(text))) if text:
                    found.add(text)
    return sorted(found)


def test_what_the_code_cites_is_in_the_register() -> None:
    texts = cited()
    assert len(texts) > 100
    for text in texts:
        found = citation(text)
        key, _, clause = text.partition(":")
        assert found.source.key == key.strip(), text
        assert found.text.endswith(clause.strip()), text
        assert str(found).endswith(f"[{found.source.tag}]"), text


def test_the_register_holds_each_key_once_with_a_tag_that_is_known() -> None:
    rows = json.loads(files("onedatum.data").joinpath("sources.json").read_text(encoding="utf-8"))["sources"]
    keys = [row["key"] for row in rows]
    assert len(keys) == len(set(keys)) == len(sources())
    for source in sources().values():
        assert source.tag in get_args(SourceTag)
        assert source.title and ":" not in source.key


def test_common_practice_carries_no_clause_of_a_standard() -> None:
    assert str(citation("common-practice")).endswith("[common practice, no source]")


@pytest.mark.parametrize("text", ["", "hearsay", "hearsay: 1.2", ":1.2"])
def test_an_unknown_key_is_refused_by_name(text: str) -> None:
    with pytest.raises(OnedatumError, match="not in the register"):
        citation(text)


def test_every_formula_of_the_examples_cites_what_is_registered() -> None:
    tags = {tag_of(entry.function).source for entry in study_with().entries.values() if entry.function}
    assert len(tags) > 5
    assert {citation(text).source.key for text in tags} <= set(sources())
