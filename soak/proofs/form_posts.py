"""Ten thousand forms filled in at random and sent to the page: no error of ours, no comment lost, the file whole."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, seed, settings
from starlette.testclient import TestClient

from onedatum.web.app import create_app
from onedatum.web.guard import Door
from soak.posts import Post, outcome, posts
from soak.report import Report

NAME = "form_posts"
SEED = 20261126
POSTS = 10_000
HOST = "127.0.0.1:8424"


def run() -> Report:
    """Serve a folder, send the forms, look at every answer and at the file."""
    outcomes: Counter[str] = Counter()
    wrongs: Counter[str] = Counter()
    with TemporaryDirectory() as place:
        app = create_app(Path(place), Door({HOST}))
        with TestClient(
            app, base_url=f"http://{HOST}", follow_redirects=False, raise_server_exceptions=False
        ) as client:

            @seed(SEED)
            @settings(max_examples=POSTS, deadline=None, database=None, suppress_health_check=list(HealthCheck))
            @given(posts())
            def send(post: Post) -> None:
                said, wrong = outcome(client, Path(place), post)
                outcomes[said] += 1
                wrongs.update(wrong)

            send()
    return Report(
        title="Forms filled in at random",
        statement="Whatever is typed into a form and sent is kept, or refused in words; the case file stays whole.",
        method=(
            "Forms with up to six values, of known and of strange names, are drawn at random and sent to the form of "
            "the page or to its interface, as made on the version that stands there or on none. Counted is every "
            "answer that is none of those foreseen, every comment that is lost, every file that cannot be read after, "
            "every file that has changed although the answer says not, and every answer without its policy."
        ),
        numbers=(
            ("forms sent", str(sum(outcomes.values()))),
            *((said, str(count)) for said, count in sorted(outcomes.items())),
            ("faults", str(sum(wrongs.values()))),
            *((each, str(count)) for each, count in sorted(wrongs.items())),
        ),
        seeds=(SEED,),
        holds=not wrongs and sum(outcomes.values()) >= POSTS,
    )
