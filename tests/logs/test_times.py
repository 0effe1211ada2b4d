"""Times: against Python's own reading of ISO 8601, and the days on which the clocks of a zone are set."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pyarrow as pa
import pytest

from onedatum.logs.reasons import BAD_TIME, IN_FOLD, IN_GAP, NO_TIME, REASONS
from onedatum.logs.texts import numbers, times
from tests.logs.rows import mapped

BERLIN = "Europe/Berlin"


def read(texts: list[str | None], form: str = "iso", zone: str = "in the text") -> tuple[list[int], list[str]]:
    found, codes = times(pa.array(texts, pa.string()), mapped(form=form, zone=zone))
    return found.tolist(), [REASONS[code] for code in codes]


def micro(text: str) -> int:
    """The same by Python."""
    return (datetime.fromisoformat(text) - datetime(1970, 1, 1, tzinfo=UTC)) // timedelta(microseconds=1)


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-20T09:40:00+00:00",
        "2026-11-20 09:40:00.5+05:30",
        "2024-02-29T23:59:59.123456Z",
        "1969-12-31T23:59:59.900000-03:30",
        "2026-11-20T09:40+01:00",
    ],
)
def test_iso_times_are_those_of_python(text: str) -> None:
    assert read([text]) == ([micro(text)], [""])


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (None, NO_TIME),
        ("", NO_TIME),
        ("  ", NO_TIME),
        ("2026-02-29T00:00:00Z", BAD_TIME),
        ("2026-13-01T00:00:00Z", BAD_TIME),
        ("2026-00-10T00:00:00Z", BAD_TIME),
        ("2026-01-01T24:00:00Z", BAD_TIME),
        ("2026-01-01T00:60:00Z", BAD_TIME),
        ("2026-01-01T00:00:00", BAD_TIME),
        ("01.02.2026 10:00", BAD_TIME),
        ("0001-01-01T00:00:00Z", BAD_TIME),
        ("yesterday", BAD_TIME),
    ],
)
def test_what_is_no_time_is_marked(text: str | None, why: str) -> None:
    assert read([text])[1] == [why]


def test_another_form_with_a_zone() -> None:
    """1 July 2026 10:00 in Berlin is 08:00 in UTC (central European summer time, two hours ahead)."""
    found = read(["01.07.2026 10:00:00", "1.7.2026 10:00:00", "07/01/2026 10:00:00"], "%d.%m.%Y %H:%M:%S", BERLIN)
    assert found[0][:2] == [micro("2026-07-01T08:00:00+00:00")] * 2
    assert found[1] == ["", "", BAD_TIME]


@pytest.mark.parametrize(
    ("text", "form", "wanted"),
    [
        ("20240101 012345", "%Y%m%d %H%M%S", "2024-01-01T01:23:45"),
        ("20240101 12345", "%Y%m%d %H%M%S", None),
        ("2024111 012345", "%Y%m%d %H%M%S", None),
        ("202411 1:2:3", "%Y%m%d %H:%M:%S", None),
        ("2024-1-1 1:2:3", "%Y-%m-%d %H:%M:%S", "2024-01-01T01:02:03"),
        ("2024-1-1 1:2:3+00:00", "%Y-%m-%d %H:%M:%S%z", "2024-01-01T01:02:03"),
        ("2024-1-1 1:2:0325", "%Y-%m-%d %H:%M:%S%f", "2024-01-01T01:02:03.250000"),
        ("2024-1-1 5828", "%Y-%m-%d %f%S", "2024-01-01T00:00:28.580000"),
        ("2024-1-1 582", "%Y-%m-%d %f%S", None),
    ],
)
def test_fields_that_touch_have_all_their_digits(text: str, form: str, wanted: str | None) -> None:
    """ISO 8601 lets no digit of its basic form, which has no separators, be left out: 12345 is no 01:23:45."""
    for texts in ([text], [text, "none"]):
        found, why = read(list(texts), form, "UTC")
        assert why[0] == ("" if wanted else BAD_TIME)
        assert not wanted or found[0] == micro(f"{wanted}+00:00")


def test_the_hours_of_the_change_of_clocks() -> None:
    """Directive 2000/84/EC: at 01:00 UTC on the last Sundays of March (29 in 2026) and October (25 in 2026)."""
    texts: list[str | None] = [
        "2026-03-29T01:59:59",
        "2026-03-29T02:00:00",
        "2026-03-29T02:59:59",
        "2026-03-29T03:00:00",
        "2026-10-25T01:59:59",
        "2026-10-25T02:00:00",
        "2026-10-25T02:59:59",
        "2026-10-25T03:00:00",
        "2026-10-25T02:30:00+01:00",
    ]
    found, why = read(texts, zone=BERLIN)
    assert why == ["", IN_GAP, IN_GAP, "", "", IN_FOLD, IN_FOLD, "", ""]
    assert found[3] - found[0] == 1_000_000, "one second lies between them"
    assert found[7] - found[4] == 7_201_000_000, "the hour that comes twice lies between them, both times"
    assert found[8] == micro("2026-10-25T01:30:00+00:00"), "an offset in the text says which it is"


@pytest.mark.parametrize("zone", [BERLIN, "Australia/Lord_Howe", "America/St_Johns", "Asia/Kathmandu", "UTC"])
def test_local_times_are_those_of_zoneinfo(zone: str) -> None:
    """Every hour and seventeen minutes of a year, forth by zoneinfo and back by us."""
    begin = datetime(2026, 1, 1, tzinfo=UTC)
    moments = [begin + timedelta(minutes=77 * step) for step in range(6800)]
    local = [moment.astimezone(ZoneInfo(zone)) for moment in moments]
    found, why = read([each.strftime("%Y-%m-%dT%H:%M:%S") for each in local], zone=zone)
    for moment, each, got, reason in zip(moments, local, found, why, strict=True):
        twice = each.replace(fold=0).utcoffset() != each.replace(fold=1).utcoffset()
        assert reason == (IN_FOLD if twice else "")
        assert twice or got == (moment - datetime(1970, 1, 1, tzinfo=UTC)) // timedelta(microseconds=1)
    assert len(set(why)) == (1 if zone in ("UTC", "Asia/Kathmandu") else 2)


def test_counted_times_and_typed_ones() -> None:
    mapping = mapped(form="seconds since 1970", zone="")
    found, codes = times(pa.array([0.0, 1.5, None, float("nan"), 1e30]), mapping)
    assert found[:2].tolist() == [0, 1_500_000]
    assert [REASONS[code] for code in codes] == ["", "", NO_TIME, BAD_TIME, BAD_TIME]
    milli, _ = times(pa.array(["1500", "x"]), mapped(form="milliseconds since 1970", zone=""))
    assert milli[0] == 1_500_000
    stamps = pa.array(np.array(["2026-07-01T10:00:00"], dtype="datetime64[ms]"))
    assert times(stamps, mapped(zone=BERLIN))[0].tolist() == [micro("2026-07-01T08:00:00+00:00")]
    aware = stamps.cast(pa.timestamp("ns", "Asia/Kathmandu"))
    assert times(aware, mapped())[0].tolist() == [micro("2026-07-01T10:00:00+00:00")]
    assert REASONS[times(stamps, mapped())[1][0]] == BAD_TIME, "no zone is guessed"


def some_text(random: np.random.Generator) -> str:
    """A time much like ISO 8601, now and then out of bounds or cut."""
    year, month = random.choice(["1677", "1678", "1969", "2024", "2026", "2262"]), random.integers(0, 14)
    text = f"{year}-{month:02}-{random.integers(0, 33):02}{random.choice([' ', 'T'])}{random.integers(0, 26):02}"
    text += f":{random.integers(0, 62):02}" * int(random.integers(0, 3))
    text += f".{random.integers(0, 10**9):09}"[: int(random.integers(0, 10))]
    return text + str(random.choice(["", "", "Z", "+01:00", "-0330", "+25:00", "+00:99", "+01", "z", " Z"]))


@pytest.mark.parametrize("zone", ["in the text", BERLIN])
def test_a_time_is_read_alike_alone_and_beside_one_that_must_be_read_part_by_part(zone: str) -> None:
    """Times that are all written plainly are read at once, by the reader of the library of columns."""
    random = np.random.default_rng(20261127)
    texts = [some_text(random) for _ in range(600)]
    found, why = read([*texts, " 2026-01-01T00:00:00Z "], zone=zone)
    for text, us, reason in zip(texts, found, why, strict=False):
        alone = read([text], zone=zone)
        assert alone[1] == [reason], text
        assert reason or alone[0] == [us], text
    assert why.count("") > 50


FORMS = [
    "%d.%m.%Y %H:%M:%S",
    "%Y%m%d%H%M",
    "%m/%d/%Y %H.%M.%S,%f",
    "am %d.%m.%Y um %H Uhr %M",
    "%H:%M:%S %Y-%m-%d",
    "%Y-%m-%d",
]


@pytest.mark.parametrize("form", FORMS)
def test_a_stated_form_is_read_alike_alone_and_beside_one_that_must_be_trimmed(form: str) -> None:
    """Against `strptime` of Python where it is a time; each alone, two of one length, and all together."""
    random = np.random.default_rng(20261127)
    texts, names = [], {"Y": 4, "m": 2, "d": 2, "H": 2, "M": 2, "S": 2}
    for _ in range(300):
        text = form.replace("%f", f"{random.integers(0, 10**6):06}"[: int(random.integers(0, 8))])
        tops = {"Y": 2261, "m": 13, "d": 31, "H": 25, "M": 60, "S": 60}
        for letter, width in names.items():
            least = 1677 if letter == "Y" else 0
            text = text.replace(f"%{letter}", f"{random.integers(least, tops[letter] + 1):0{width}}")
        spoiled = int(random.integers(0, len(text)))
        texts.append(
            text if random.random() < 0.8 else text[:spoiled] + "é"[: int(random.integers(0, 2))] + text[spoiled + 1 :]
        )
    moment = "2026-01-31T22:58:59.25Z"
    aside = f" {datetime.fromisoformat(moment):{form}} "
    found, why = read([*texts, aside], form, "UTC")
    for text, us, reason in zip(texts, found, why, strict=False):
        for alone in (read([text], form, "UTC"), read([text, text], form, "UTC")):
            assert alone[1][0] == reason, text
            assert reason or alone[0][0] == us, text
        if not reason:
            wanted = datetime.strptime(text, form).replace(tzinfo=UTC) - datetime(1970, 1, 1, tzinfo=UTC)
            assert us == wanted // timedelta(microseconds=1)
    assert why.count("") > 50 and why.count(BAD_TIME) > 20


def test_a_number_is_read_alike_alone_and_beside_one_that_must_be_trimmed() -> None:
    random = np.random.default_rng(20261127)
    signs = "0123456789+-.eE,_ infxa"
    texts = ["".join(random.choice(list(signs), int(random.integers(1, 6)))) for _ in range(600)]
    texts += ["1e0005", "1e999", "-1E-400", "9" * 400, "1.", ".5", "-.5e3", "infinity"]
    found, codes = numbers(pa.array([*texts, " 7 "]))
    for text, value, code in zip(texts, found, codes, strict=False):
        alone, its = numbers(pa.array([text]))
        assert its[0] == code and (code or alone[0] == value), text
    assert 50 < np.count_nonzero(codes == 0) < 500
