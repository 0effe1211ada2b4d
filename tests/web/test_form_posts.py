"""A thousand forms filled in at random: no error of ours, the file whole. `dev.py soak` sends ten thousand others."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings

from soak.posts import ANSWERS, COMMENTS, Post, outcome, posts
from tests.web.conftest import Desk

ANYHOW = settings(max_examples=1000, suppress_health_check=[HealthCheck.function_scoped_fixture])


def test_whatever_is_sent_is_kept_or_refused_in_words(desk: Desk) -> None:
    (desk.folder / "one.yaml").unlink()
    seen = set()

    @ANYHOW
    @given(posts())
    def send(post: Post) -> None:
        said, wrong = outcome(desk.client, desk.folder, post)
        assert wrong == []
        seen.add(said)

    send()
    assert seen == set(ANSWERS.values()) - {"refused as a form"}


def test_the_case_that_is_sent_to_has_a_comment_in_every_kind_of_place() -> None:
    assert len(COMMENTS) == 8
