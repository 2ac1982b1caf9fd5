"""What stands in the cells beside the lineup: voltage, short circuit, frequency."""

from collections.abc import Iterator

from models.judging.wording import plain
from models.record.ratings.compared import SWITCHING, Compared, Held
from models.record.ratings.remark import Finding, kv

GROUND = "earthing_switch"
LEVELS = ("rated_kv", "rated_withstand_kv", "rated_impulse_kv")
UNITS = {"rated_ka": "kA", "rated_s": "s"}
FUSED = ("fused_switch", "contactor")
# What is said of a short-time current besides: a fuse may let less through.
ENDINGS = {
    **{(kind, name): ".fused" for kind in FUSED for name in UNITS},
    ("fuse", "rated_ka"): ".fuse",
}


def device_findings(about: Compared) -> Iterator[Finding]:
    """Yield what is rated for less than the lineup that it stands in."""
    for held in about.of_kind(*SWITCHING, GROUND, "bus", "ct", "fuse"):
        for name in LEVELS:
            yield from _below(about, held, name)
        yield from _short_circuit(about, held)
    for held in about.held:
        yield from _frequency(about, held)


def _below(about: Compared, held: Held, name: str) -> Iterator[Finding]:
    own, lineup = held.value(name), about.rating(name)
    # An instrument transformer has levels of a table of its own.
    if held.one.kind == "ct" and name != "rated_kv":
        return
    if own is not None and lineup is not None and own < lineup:
        sentence = f"rating.below.{name}"
        yield held.found(name, sentence, value=kv(own), lineup=kv(lineup))


def _short_circuit(about: Compared, held: Held) -> Iterator[Finding]:
    for name, unit in UNITS.items():
        own, lineup = held.value(name), about.rating(name)
        if own is None or lineup is None or own >= lineup:
            continue
        if name == "rated_s" and _as_much_heat(about, held):
            continue
        key = f"rating.below.{name}{ENDINGS.get((held.one.kind, name), '')}"
        parts = {"value": f"{plain(own)} {unit}", "lineup": f"{plain(lineup)} {unit}"}
        yield held.found(name, key, **parts)


def _as_much_heat(about: Compared, held: Held) -> bool:
    """Whether I²t of the apparatus is no less: a higher current, a shorter time."""
    own_ka, own_s = held.value("rated_ka"), held.value("rated_s")
    ka, s = about.rating("rated_ka"), about.rating("rated_s")
    if own_ka is None or own_s is None or ka is None or s is None:
        return False
    return own_ka**2 * own_s >= ka**2 * s


def _frequency(about: Compared, held: Held) -> Iterator[Finding]:
    own, lineup = held.value("rated_hz"), about.rating("rated_hz")
    if own is not None and lineup is not None and own != lineup:
        parts = {"value": f"{plain(own)} Hz", "lineup": f"{plain(lineup)} Hz"}
        yield held.found("rated_hz", "rating.frequency", **parts)
