"""The sets of simulated logs by which the review of a log is tried: that they are what they say, and are counted so."""

from __future__ import annotations

from dataclasses import replace

from onedatum.foundation.moments import DAY_s, HOUR_s
from onedatum.logs.review.limits import kinds
from onedatum.simulate.history import Record, troubles_of
from soak.histories import FAULTY, HEALTHY, LOGS
from soak.proofs.twenty_logs_again import holds
from soak.trial import Score, Trial, score
from soak.twenty_more import FLOOR_TOLD, MOST_FALSE_IN_SOUND, TWENTY
from soak.works import made
from tests.simulate.instruments import FLOAT, instrument


def test_the_twenty_logs_are_of_known_faults_and_five_are_sound() -> None:
    assert len({log.name for log in LOGS}) == 20 and [len(log.plan.troubles) for log in HEALTHY] == [0] * 5
    assert min(len(log.plan.troubles) for log in FAULTY) >= 1
    assert len({log.plan.seed for log in LOGS}) == 20
    assert sum(len({each.kind for each in log.plan.troubles}) > 1 for log in FAULTY) >= 5
    own = set(troubles_of(instrument(FLOAT))) | {"film", "permittivity"}
    assert {each.kind for log in FAULTY for each in log.plan.troubles} <= own


def test_an_altered_case_of_the_twenty_can_be_made() -> None:
    for log in (log for log in LOGS if log.changes):
        found = made(replace(log, plan=replace(log.plan, record=Record(3600.0))))
        assert len(found.tank.moves) > 20 and found.received_A.min() >= 0.0038


def test_the_second_blind_set_states_for_each_fault_what_tells_it_and_why_it_matters() -> None:
    faulty = [tried for tried in TWENTY if tried.told_by]
    assert len({tried.log.name for tried in TWENTY}) == len({tried.log.plan.seed for tried in TWENTY}) == 20
    assert [len(tried.log.plan.troubles) for tried in faulty] == [len(tried.told_by) for tried in faulty]
    assert all(len(tried.why) == len(tried.told_by) for tried in faulty)
    assert sum(len(tried.told_by) for tried in faulty) == 25 > FLOOR_TOLD
    named = {kind for tried in TWENTY for told_by in (*tried.told_by, tried.allowed) for kind in told_by}
    assert named == set(kinds())  # every signature of the user's page is named by a fault
    assert {trouble.kind for tried in TWENTY if not tried.told_by for trouble in tried.log.plan.troubles} == {"gap"}


def test_what_is_told_false_and_beside_is_counted_as_stated() -> None:
    tried = next(each for each in TWENTY if len(each.told_by) == 2)
    second = tried.log.plan.troubles[1]
    found = [
        {"kind": tried.told_by[1][0], "from_s": second.start_s, "to_s": second.start_s + DAY_s},
        {"kind": "spikes", "from_s": 0.0, "to_s": HOUR_s},
        {"kind": "spikes", "from_s": second.start_s, "to_s": second.start_s},
    ]
    told, false, lines = score(tried, found)
    assert (told, false) == (1, 1)
    assert lines[-2:] == ["**false: spikes**", "beside: spikes"]
    sound = next(each for each in TWENTY if each.allowed)
    assert score(sound, [{"kind": "gaps"}, {"kind": "hum"}])[:2] == (0, 1)


def test_the_new_tanks_of_the_second_set_can_be_made() -> None:
    for case, changes in {(tried.log.case, tried.log.changes) for tried in TWENTY if tried.log.changes}:
        tried = next(each for each in TWENTY if (each.log.case, each.log.changes) == (case, changes))
        found = made(replace(tried.log, plan=replace(tried.log.plan, record=Record(3600.0))))
        assert len(found.booked) > 20 and found.received_A.min() >= 0.0038


def trial(now: tuple[int, int, int], before: tuple[int, int, int]) -> Trial:
    """Faults told, false findings, and of them those in sound logs."""
    return Trial(TWENTY, {}, Score(*before, {}), Score(*now, {}))


def test_the_proof_of_the_second_blind_set_fails_by_the_run_of_now_whatever_the_first_was() -> None:
    """By the statement of its page: so many told at least, so few false in sound logs, and no worse than before."""
    bar = (FLOOR_TOLD, 4, MOST_FALSE_IN_SOUND)
    poor = (0, 9, 9)
    assert holds(trial(bar, bar)) and holds(trial(bar, poor))
    assert not holds(trial((FLOOR_TOLD - 1, 4, MOST_FALSE_IN_SOUND), poor))
    assert not holds(trial((FLOOR_TOLD, 4, MOST_FALSE_IN_SOUND + 1), poor))
    better = (FLOOR_TOLD + 1, 4, MOST_FALSE_IN_SOUND)
    assert not holds(trial(bar, better))
    assert not holds(trial((FLOOR_TOLD, 5, MOST_FALSE_IN_SOUND), bar))
