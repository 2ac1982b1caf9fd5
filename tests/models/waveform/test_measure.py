"""Times measured in made-up records, against the true instants."""

import math

import pytest

from models.errors import InputError
from models.waveform.current import current_between
from models.waveform.measure import BEFORE, BOUNCE, LAST, Choice, measure
from models.waveform.parts import one_file
from models.waveform.read import Waveform, read_waveform
from tests.waveform_records import Made, combined, pair

TRUE_S = 0.427917  # from onset to trip
STEP = 1 / 4800
TRIGGER = Choice(start="trigger", end=0)
ONSET = Choice(start="onset", start_place=0, end=0)
CHANNEL = Choice(start="channel", start_place=1, end=0)


def read(made: Made, *, cff: bool = False) -> Waveform:
    files = [combined(made)] if cff else pair(made)
    return read_waveform(one_file(files).data)


FORMATS = {
    f"{revision} {kind}{' combined' if cff else ''}": (revision, kind, cff)
    for revision, kinds in {
        "1991": ("ASCII", "BINARY"),
        "1999": ("ASCII", "BINARY"),
        "2001": ("BINARY",),
        "2013": ("ASCII", "BINARY", "BINARY32", "FLOAT32"),
    }.items()
    for kind in kinds
    for cff in ((False, True) if revision == "2013" else (False,))
}


@pytest.mark.parametrize(("revision", "kind", "cff"), FORMATS.values(), ids=FORMATS)
def test_every_revision_and_type_gives_the_true_time(
    revision: str, kind: str, cff: bool
) -> None:
    record = read(Made(revision=revision, kind=kind), cff=cff)
    for choice in (TRIGGER, ONSET, CHANNEL):
        found = measure(record, choice)
        assert abs(found.time_s - TRUE_S) <= found.unsure_s, choice
        assert found.unsure_s >= 2 * STEP * (1 - 1e-9)
    assert measure(record, TRIGGER).time_s == pytest.approx(0.428125, abs=1e-9)
    current = current_between(record, 0, 0.2, 0.627917)
    assert current is not None
    assert current.recorded_a == pytest.approx(5.0, rel=2e-3)


CASES = {
    "closed at rest": (Made(closed_at_rest=True), ONSET),
    "closed at rest, of 1991": (Made(closed_at_rest=True, revision="1991"), ONSET),
    "closed at rest, declared open": (
        Made(closed_at_rest=True, normal=0),
        Choice(start="onset", start_place=0, end=0, rest=BEFORE),
    ),
    "two rates, the trip at the lower": (
        Made(rates=((4800.0, 0.6), (1200.0, 0.4))),
        TRIGGER,
    ),
    "two rates, samples numbered from 0": (
        Made(rates=((4800.0, 0.6), (1200.0, 0.4)), first_number=0),
        TRIGGER,
    ),
    "samples numbered from 0": (Made(first_number=0), TRIGGER),
    "bounce at the trip": (Made(trip=(0.627917, 0.6292, 0.6305)), ONSET),
    "a pulse of 0.3 ms long before": (Made(trip=(0.3, 0.3003, 0.627917)), ONSET),
    "load before the fault": (Made(before_a=2.0), ONSET),
    "begins at a crest": (Made(phase=math.pi / 2), ONSET),
    "begins just after zero": (Made(phase=-0.01), ONSET),
    "the second shot, looked for": (
        Made(trip=(0.3, 0.4, 0.627917)),
        Choice(start="trigger", end=0, after_s=0.5),
    ),
    "stamps for a rate": (Made(by_stamps=True), TRIGGER),
    "nanosecond stamps": (Made(by_stamps=True, digits=9, stamp_s=1e-9), TRIGGER),
    "nanosecond trigger, microsecond data, with a rate": (Made(digits=9), TRIGGER),
    "seventeen more channels": (Made(kind="BINARY", more_status=17), ONSET),
    "a station in Latin-1": (Made(station="Köln"), ONSET),
}


@pytest.mark.parametrize(("made", "choice"), CASES.values(), ids=CASES)
def test_the_true_time_lies_within_what_is_said(made: Made, choice: Choice) -> None:
    found = measure(read(made), choice)
    assert abs(found.time_s - TRUE_S) <= found.unsure_s
    assert found.unsure_s < 0.003


def test_a_breaker_s_poles_are_timed_at_first_touch_last_parting_and_for_bounce() -> (
    None
):
    made = Made(trip=(0.252, 0.2531, 0.2541))
    record = read(made)
    for edge, true_s in (("first", 0.052), (LAST, 0.0541), (BOUNCE, 0.0021)):
        found = measure(
            record, Choice(start="channel", start_place=1, end=0, edge=edge)
        )
        assert abs(found.time_s - true_s) <= found.unsure_s, edge


SAID = {
    "bounce": (Made(trip=(0.627917, 0.6292, 0.6305)), ONSET, "bounces"),
    "several": (Made(trip=(0.4, 0.45, 0.627917)), ONSET, "operates 2 times"),
    "pulse": (Made(trip=(0.3, 0.3003, 0.627917)), ONSET, "pulses below 1 ms"),
    "late trigger": (Made(trigger_s=0.2725), TRIGGER, "72.08 ms before"),
}


@pytest.mark.parametrize(("made", "choice", "words"), SAID.values(), ids=SAID)
def test_what_is_odd_is_said(made: Made, choice: Choice, words: str) -> None:
    assert words in " ".join(measure(read(made), choice).remarks)


REFUSED = {
    "no trip": (Made(trip=()), ONSET, "end", "does not change after the start"),
    "tripped from the start": (
        Made(trip=(0.1,)),
        ONSET,
        "end",
        "away from its normal state",
    ),
    "closed at rest, declared open": (
        Made(closed_at_rest=True, normal=0),
        ONSET,
        "end",
        "state wrong",
    ),
    "half a cycle before the fault": (
        Made(onset_s=0.009),
        ONSET,
        "start",
        "less than one cycle",
    ),
    "no frequency": (Made(hz=0), ONSET, "start", "frequency"),
    "no current": (Made(amperes=0), ONSET, "start", "does not change"),
    "trigger in another unit": (
        Made(trigger_s=9.0),
        TRIGGER,
        "start",
        "its stamps are wrong",
    ),
    "start channel away from the beginning": (
        Made(onset_s=-1.0, trigger_s=0.0),
        CHANNEL,
        "start",
        "from the beginning",
    ),
    "an onset in a steady current": (
        Made(),
        Choice(start="onset", start_place=0, end=0, after_s=0.3),
        "start",
        "does not change from one cycle",
    ),
    "no such channel": (Made(), Choice(start="trigger", end=7), "end", "Choose"),
}


@pytest.mark.parametrize(
    ("made", "choice", "field", "words"), REFUSED.values(), ids=REFUSED
)
def test_what_cannot_be_measured_is_refused(
    made: Made, choice: Choice, field: str, words: str
) -> None:
    record = read(made)
    with pytest.raises(InputError, match=words) as caught:
        measure(record, choice)
    assert [fault.field for fault in caught.value.faults] == [field]
