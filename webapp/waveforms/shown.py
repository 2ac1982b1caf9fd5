"""What a page shows of a record: the time, its words, the current, the drawing."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from markupsafe import Markup

from models.errors import Fault, InputError
from models.judging import parse_number
from models.judging.wording import figure
from models.waveform.current import Current, current_between
from models.waveform.edges import BOUNCE_RULE
from models.waveform.measure import BOUNCE, FIRST, NORMAL, Choice, Measured, measure
from models.waveform.outline import outline
from models.waveform.read import Waveform
from models.waveform.starts import CHANNEL, ONSET, THRESHOLD_PCT
from webapp.drawing.svg import svg
from webapp.drawing.waveform import Marked, span, waveform

SECONDS = {"s": 1.0, "ms": 1000.0}
APART_PCT = 2.0  # above it, the currents of point and record differ; common practice
USUAL_CYCLE_S = 0.02
CYCLES = 3  # drawn before the start and after the end, seen from near


def choice_of(chosen: Mapping[str, str]) -> Choice:
    """Return what is chosen; InputError at the field for a number that is none."""
    start, _, place = chosen["start"].partition(":")
    return Choice(
        start=start,
        start_place=int(place) if place.isdecimal() else -1,
        end=int(chosen["end"]) if chosen["end"].isdecimal() else -1,
        edge=chosen["edge"],
        rest=chosen["rest"],
        threshold_pct=float(chosen["threshold"] or THRESHOLD_PCT),
        after_s=_milliseconds(chosen["after"]) / 1000,
    )


def _milliseconds(typed: str) -> float:
    if not typed.strip():
        return 0.0
    try:
        return max(0.0, parse_number(typed.strip()))
    except InputError as error:
        raise InputError(
            *(Fault(field="after", message=one.message) for one in error.faults)
        ) from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A time measured: as text in the card's unit, with what has to be said."""

    choice: Choice
    measured: Measured
    text: str
    unit: str
    unsure: str  # in ms
    current: Current | None
    said: str  # from where to where, and by which rule
    read_with: Sequence[str]  # what was put right when the record was read

    @property
    def remarks(self) -> Sequence[str]:
        """What is odd about it."""
        return [*self.measured.remarks, *self.read_with]

    @property
    def note(self) -> str:
        """How it was measured, whole."""
        return " ".join([self.said, *self.remarks])


def measured_in(record: Waveform, chosen: Mapping[str, str], unit: str) -> Shown:
    """Measure what is chosen; InputError at the field that has to be chosen anew."""
    choice = choice_of(chosen)
    found = measure(record, choice)
    current = None
    if chosen["channel"].isdecimal() and int(chosen["channel"]) < len(record.analog):
        current = current_between(
            record, int(chosen["channel"]), found.start.at_s, found.end_s
        )
    return Shown(
        choice=choice,
        measured=found,
        text=digits(found, SECONDS[unit]),
        unit=unit,
        unsure=figure(found.unsure_s * 1000, 2),
        current=current,
        said=_said(record, choice, found),
        read_with=record.remarks,
    )


def digits(found: Measured, factor: float) -> str:
    """Return the time with a digit more than what it is sure to."""
    decimals = max(0, 1 - math.floor(math.log10(found.unsure_s * factor)))
    return f"{found.time_s * factor:.{min(decimals, 9)}f}"


def _said(record: Waveform, choice: Choice, found: Measured) -> str:
    name = record.status[choice.end].name
    rest = "normal state" if choice.rest == NORMAL else "state before the start"
    of = {
        FIRST: f"to the first change of {name} away from its {rest}",
        BOUNCE: f"from the first change of {name} to the last",
    }.get(choice.edge, f"to the last change of {name} in its operation")
    begun = "" if choice.edge == BOUNCE else f"from {found.start.by} "
    unsure = figure(found.unsure_s * 1000, 2)
    sure = f"unsure by {unsure} ms, a sample at each edge or more."
    return f"{begun}{of}; {sure} {BOUNCE_RULE}"


def current_said(current: Current, side: str, given: float | None) -> tuple[str, bool]:
    """Return the current in words beside the point's, and whether they differ."""
    amperes = current.on(side) if side else current.recorded_a
    base = {"P": "primary", "S": "secondary"}.get(side or current.side, "")
    if amperes is None:
        return (
            f"{current.channel}: {figure(current.recorded_a, 4)} A as recorded; the "
            "ratio to the other side is not said.",
            False,
        )
    said = f"{current.channel}: {figure(amperes, 4)} A {base}".strip()
    if not given:
        return f"{said}.", False
    apart = (amperes / given - 1) * 100
    words = f"{said}, {apart:+.1f} % from the {figure(given, 4)} A of the point."
    return words.replace("-", "−"), abs(apart) > APART_PCT


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """The drawing, and where its time begins and ends, for the pointer."""

    svg: Markup
    from_s: float
    to_s: float
    left: float
    right: float
    left_out: int


def picture(
    record: Waveform, chosen: Mapping[str, str], shown: Shown | None, page: str
) -> Picture:
    """Return the record drawn with what is measured in it."""
    start, _, place = chosen["start"].partition(":")
    at = int(place) if place.isdecimal() else -1
    end = int(chosen["end"]) if chosen["end"].isdecimal() else -1
    from_s, to_s = _drawn_span(record, chosen, shown)
    status = [end, *([at] if start == CHANNEL else [])]
    drawn = outline(
        record,
        from_s=from_s,
        to_s=to_s,
        analog=[at] if start == ONSET else [],
        status=status,
    )
    marked = Marked(
        start_s=_begins(shown),
        end_s=shown.measured.end_s if shown else None,
        analog=at if start == ONSET else -1,
        status=end,
    )

    def way(**changed: str) -> str:
        return f"{page}?{urlencode({**chosen, **changed})}"

    made = waveform(
        drawn,
        marked,
        start_way=lambda channel: way(start=f"{ONSET}:{channel}"),
        end_way=lambda channel: way(end=str(channel)),
    )
    across = span(drawn)
    return Picture(
        svg=Markup(svg(made)),  # noqa: S704 (escaped there)
        from_s=from_s,
        to_s=to_s,
        left=across.start / made.width,
        right=across.end / made.width,
        left_out=drawn.left_out,
    )


def _begins(shown: Shown | None) -> float | None:
    if shown is None:
        return None
    if shown.choice.edge == BOUNCE:
        return shown.measured.end_s - shown.measured.time_s
    return shown.measured.start.at_s


def _drawn_span(
    record: Waveform, chosen: Mapping[str, str], shown: Shown | None
) -> tuple[float, float]:
    last = float(record.time[-1])
    begins, ends = _begins(shown), shown.measured.end_s if shown else None
    seen = {"near": (begins, ends), "start": (begins, begins), "end": (ends, ends)}
    first, final = seen.get(chosen["view"], (None, None))
    if first is None or final is None:
        return 0.0, last
    beside = CYCLES * (record.cycle_s or USUAL_CYCLE_S)
    return max(0.0, first - beside), min(last, final + beside)
