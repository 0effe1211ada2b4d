"""What every test needs."""

import gc
import os
from collections.abc import Generator
from typing import Any

import pytest
from hypothesis import settings

# As the command sets it for itself: the matrices here are small, and the workers of the tests share the cores already.
# It counts only before numpy is loaded, which nothing does before this file.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# Two slow cores must not fail a property: no time limit for one example. The examples are the same in every run, so
# that a change is refused for what it does and not for what is found by chance; `dev.py soak` tries new ground, and so
# does `dev.py test --hypothesis-profile long`, with ten times as many.
settings.register_profile("onedatum", settings(), max_examples=50, deadline=None, derandomize=True, database=None)
settings.register_profile("long", settings(), max_examples=500, deadline=None, database=None)
settings.load_profile("onedatum")


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, Any, Any]:
    """What the collection loads stays until the end: looking through it for garbage again and again is dear."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.set_threshold(100_000, 20, 20)
        gc.enable()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Of what went well no keywords: a worker sends a report of each step of each test, and they are half of it."""
    report = yield
    if report.passed:
        report.keywords = {}
    return report
