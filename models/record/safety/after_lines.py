"""What is asked after the readings of a card: the gear is made safe again.

It opens with the first reading, and earlier for what gives back a ground that is off or
a spring that is charged. No lapse and no stop closes it; a later reading asks again.
"""

from models.record.safety.asked import Asked, of_card
from models.record.safety.given import Given
from models.record.safety.line_standing import LineJson, line_json
from models.record.safety.state import State
from models.record.safety.times import SECOND

DISCHARGE_TIMES = 4  # MIL-HDBK-1023/4; the factor from memory


def after_lines(state: State, card: str, choice: str | None) -> list[LineJson]:
    """Return the lines that are asked now, as they stand."""
    found = []
    for code in of_card(state, card, choice, "after"):
        given = state.lines.find("after", card, code)
        since = asked_since(state, card, code)
        if since is not None:
            word = "reading" if since == state.card(card).last_reading else "again"
            again = (word, since) if given and given.at <= since else None
            found.append(line_json(Asked(code), given, again))
    return found


def after_open(state: State, card: str) -> list[str]:
    """Return the codes that are still to be given on a card."""
    lines = after_lines(state, card, None)
    return [one["code"] for one in lines if one["state"] in ("open", "lapsed")]


def asked_since(state: State, card: str, code: str) -> int | None:
    """Return the moment after which a line has to be given, None: it is not asked."""
    done = state.card(card)
    if not may_be_given(state, card, code):
        return None
    when = state.book["lines"][code]["when"]
    if "given" not in when:
        return done.last_reading or 0
    line = state.lines.find("after", card, code)
    first = max((g.at for g in _given(state, card, when["given"])), default=None)
    if first is not None and (line is None or line.at <= first):
        return max(first, done.last_reading or 0)
    if line is not None and line.at > (done.last_reading or 0):
        return done.last_reading or 0
    return None


def _given(state: State, card: str, codes: list[str]) -> list[Given]:
    lines = (state.lines.find("test", card, code) for code in codes)
    return [line for line in lines if line is not None and line.state == "given"]


def may_be_given(state: State, card: str, code: str) -> bool:
    """Return whether a line of *after* has something to speak of."""
    return bool(state.card(card).readings) or any(
        one.card == card and code in one.until for one in state.suspensions
    )


def discharge(state: State, card: str) -> tuple[int, int] | None:
    """Return when the dc of a card went off and when its discharge is over."""
    done = state.card(card)
    if done.dc_off is None:
        return None
    if done.last_discharge is not None and done.dc_off <= done.last_discharge:
        return None  # the dc of an earlier run, discharged before the latest reading
    least = state.book["settings"]["discharge_least_s"]
    over = done.dc_off + int(max(DISCHARGE_TIMES * done.dc_s, least) * SECOND)
    return done.dc_off, over
