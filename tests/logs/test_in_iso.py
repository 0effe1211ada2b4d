"""Times of a stated form in the order of ISO 8601: what is put there at once, and what is read part by part."""

from __future__ import annotations

import pyarrow as pa
import pytest

from onedatum.logs.in_iso import in_iso


@pytest.mark.parametrize(
    ("text", "form", "wanted"),
    [
        ("31.12.2025 23:59:07", "%d.%m.%Y %H:%M:%S", "2025-12-31T23:59:07"),
        ("12/31/2025 23:59", "%m/%d/%Y %H:%M", "2025-12-31T23:59:00"),
        ("20251231", "%Y%m%d", "2025-12-31T00:00:00"),
        ("235907,25 31/12/2025", "%H%M%S,%f %d/%m/%Y", "2025-12-31T23:59:07.25"),
        ("99.99.9999 99:99:99", "%d.%m.%Y %H:%M:%S", "9999-99-99T99:99:99"),
    ],
)
def test_digits_go_to_their_places(text: str, form: str, wanted: str) -> None:
    several = pa.array(["of another length", text, text, text]).slice(1, 2)
    found = in_iso(several, form)
    assert found is not None and found.to_pylist() == [wanted] * 2


@pytest.mark.parametrize(
    ("texts", "form"),
    [
        (["1.12.2025 23:59:07"], "%d.%m.%Y %H:%M:%S"),
        (["31.12.2025 23:59:07", "1.12.2025 23:59:07"], "%d.%m.%Y %H:%M:%S"),
        (["31.12.2025 23:59:0x"], "%d.%m.%Y %H:%M:%S"),
        (["31-12-2025 23:59:07"], "%d.%m.%Y %H:%M:%S"),
        (["31.12.2025+01:00"], "%d.%m.%Y%z"),
        (["31.12.2025 31"], "%d.%m.%Y %d"),
        (["31.12.2025 2"], "%d.%m.%Y %q"),
        (["23:59:07.1234567"], "%H:%M:%S.%f"),
        (["5828"], "%f%S"),
        ([""], "%H"),
        ([], "%H"),
    ],
)
def test_what_does_not_fit_is_left(texts: list[str], form: str) -> None:
    assert in_iso(pa.array(texts, pa.string()), form) is None
