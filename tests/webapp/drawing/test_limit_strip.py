"""The limit strip, from judgements of the judging core."""

import math

import pytest

from models.judging import Accuracy
from models.services.keeping.log import texted
from tests.webapp.drawing.sample_drawings import (
    BENCH,
    POLE_60,
    RELAY,
    SOLID_15_KV,
    VACUUM,
    WARM,
    judged,
)
from webapp.drawing import limit_strip
from webapp.drawing.shapes import Line, Polyline, Rect, Text

IR, CR = "insulation_resistance", "contact_resistance"
TESTER = Accuracy(pct=5.0, fixed=0.02, unit="GOhm")
METER = Accuracy(pct=0.5, fixed=0.2, unit="uOhm")


def strip(procedure, subject, text, unit, conditions, accuracy=None):
    made = judged(procedure, subject, text, unit, conditions, accuracy)
    return limit_strip(made, text)


def of(drawing, kind, style):
    return [s for s in drawing.items if isinstance(s, kind) and s.style == style]


def middle(lozenge):
    return sum(x for x, _ in lozenge.points) / len(lozenge.points)


def mark(drawing):
    (found,) = [
        s
        for s in drawing.items
        if isinstance(s, Polyline) and s.style.endswith("-mark")
    ]
    return middle(found)


def test_a_reading_within_lies_on_the_tinted_side():
    drawing = strip(IR, SOLID_15_KV, "8.4", "GOhm", WARM)
    (tint,) = of(drawing, Rect, "permitted")
    assert tint.x < mark(drawing) < tint.x + tint.width


def test_a_reading_outside_lies_on_the_other():
    drawing = strip(IR, SOLID_15_KV, "2.1", "GOhm", WARM)
    (tint,) = of(drawing, Rect, "permitted")
    assert mark(drawing) < tint.x


def test_the_limit_is_a_heavy_tick_with_its_value():
    # 5000 MOhm at 15 kV: ANSI/NETA MTS table 100.1, as in the criteria tables.
    drawing = strip(IR, SOLID_15_KV, "8.4", "GOhm", WARM)
    (tick,) = of(drawing, Line, "limit")
    (value,) = of(drawing, Text, "limit-figure")
    assert value.text == "5 GΩ"
    assert abs(value.x - tick.x1) < 5


def test_a_reading_at_the_limit_lies_on_the_tick():
    drawing = strip(CR, POLE_60, "60", "uOhm", BENCH)
    (tick,) = of(drawing, Line, "limit")
    assert mark(drawing) == pytest.approx(tick.x1)


def test_insulation_is_logarithmic():
    """A reading ten times the limit is one decade from it, a hundred times two."""
    places = []
    for text in ("5", "50", "500"):
        drawing = strip(IR, SOLID_15_KV, text, "GOhm", WARM)
        (tick,) = of(drawing, Line, "limit")
        (scale,) = of(drawing, Line, "scale")
        decades = math.log10(36 * float(text) / 5)  # six times beyond either end
        places.append((mark(drawing) - tick.x1) * decades / (scale.x2 - scale.x1))
    assert places == pytest.approx([0, 1, 2])


def test_contacts_are_linear_from_zero():
    drawing = strip(CR, POLE_60, "30", "uOhm", BENCH)
    (tick,) = of(drawing, Line, "limit")
    (scale,) = of(drawing, Line, "scale")
    assert mark(drawing) - scale.x1 == pytest.approx((tick.x1 - scale.x1) / 2)


def test_u_is_a_whisker_about_the_reading():
    drawing = strip(CR, POLE_60, "41", "uOhm", BENCH, METER)
    whisker, *ends = of(drawing, Line, "within-line")
    assert len(ends) == 2
    assert whisker.x1 < mark(drawing) < whisker.x2
    assert mark(drawing) - whisker.x1 == pytest.approx(whisker.x2 - mark(drawing))


ARROWS = {"over range": (">200", 1), "under range": ("<1", -1)}


@pytest.mark.parametrize(("text", "way"), ARROWS.values(), ids=ARROWS)
def test_an_arrow_instead_of_a_whisker(text, way):
    drawing = strip(IR, SOLID_15_KV, text, "GOhm", WARM, TESTER)
    shafts = [
        s for s in drawing.items if isinstance(s, Line) and s.style.endswith("-line")
    ]
    assert len(shafts) == 1
    assert (shafts[0].x2 - shafts[0].x1) * way > 0


def test_a_relay_has_two_ticks_and_the_tint_between():
    drawing = strip("relay_timing", RELAY, "14.1", "s", {"applied_a": 960.0})
    early, late = of(drawing, Line, "limit")
    (tint,) = of(drawing, Rect, "permitted")
    assert tint.x == pytest.approx(early.x1)
    assert tint.x + tint.width == pytest.approx(late.x1)
    assert early.x1 < mark(drawing) < late.x1


NOTHING = {
    "a withstand": (
        "dielectric_withstand",
        VACUUM,
        "held",
        None,
        {"supply": "ac", "test_kv": 27.0, "duration_s": 60.0},
    ),
    "no temperature": (IR, SOLID_15_KV, "8.4", "GOhm", {"test_kv": 2.5}),
    "no limit": (
        CR,
        {"gear": "metal_clad", "conductor": "copper"},
        "41",
        "uOhm",
        BENCH,
    ),
    "zero on a logarithmic scale": (IR, SOLID_15_KV, "0", "GOhm", WARM),
    "did not operate": ("relay_timing", RELAY, "no_trip", None, {"applied_a": 960.0}),
}


@pytest.mark.parametrize("given", NOTHING.values(), ids=NOTHING)
def test_nothing_to_draw(given):
    assert strip(*given) is None


def test_a_frozen_judgement_draws_the_same():
    """In a package numbers are text."""
    made = judged(IR, SOLID_15_KV, "8.4", "GOhm", WARM, TESTER)
    assert limit_strip(texted(made), "8.4") == limit_strip(made, "8.4")


def test_it_is_said_in_words():
    drawing = strip(CR, POLE_60, "41", "uOhm", BENCH, METER)
    assert drawing.title == "41.00 µΩ, within"
    assert drawing.description == (
        "Number line: at most 60 µΩ is wanted, U is 0.47 µΩ."
    )


def test_the_strips_of_a_card_share_one_scale():
    poles = [
        judged(CR, POLE_60, text, "uOhm", BENCH, METER) for text in ("41", "58", "75")
    ]
    drawings = [limit_strip(pole, among=poles) for pole in poles]
    limits = {of(drawing, Line, "limit")[0].x1 for drawing in drawings}
    assert len(limits) == 1
    places = [mark(drawing) for drawing in drawings]
    assert places == sorted(places)
    assert len(set(places)) == 3


def test_a_strip_that_the_others_would_flatten_keeps_its_own_scale():
    quick = {
        "verdict": "within",
        "corrected": 3.1,
        "corrected_unit": "s",
        "limit_low": 2.859,
        "limit_high": 3.159,
    }
    slow = quick | {"corrected": 14.0, "limit_low": 13.3, "limit_high": 14.7}
    assert limit_strip(quick, among=[quick, slow]) == limit_strip(quick)


@pytest.mark.parametrize(
    ("value", "low", "high"),
    [(-25.1, -28.2, -18.2), (-26.2, None, -5.0), (-2.0, -5.0, 5.0)],
)
def test_what_lies_below_zero_has_its_place(value, low, high):
    made = {
        "corrected": value,
        "corrected_unit": "degC",
        "limit_low": low,
        "limit_high": high,
        "uncertainty": 0.5,
        "verdict": "within",
    }
    drawing = limit_strip(made)
    ticks = [tick.x1 for tick in of(drawing, Line, "limit")]
    (tint,) = of(drawing, Rect, "permitted")
    assert tint.x < mark(drawing) < tint.x + tint.width
    assert len({*ticks, mark(drawing)}) == len(ticks) + 1
    assert all(one.text != "0" or value == -2 for one in of(drawing, Text, "figure"))
