"""Arc-resistant gear: its type, current and duration beside each other."""

from collections.abc import Iterator

from models.fields import field
from models.judging.wording import plain
from models.record.ratings.compared import Compared
from models.record.ratings.remark import (
    AS_PUBLISHED,
    LOOK_AGAIN,
    Remark,
    cited,
    practice,
)
from models.words import say

PLACE = "ratings.arc_type"


def arc_remarks(about: Compared) -> Iterator[Remark]:
    """Yield what the arc ratings say, and what is missing of them."""
    arc_type = about.draft.ratings.get("arc_type")
    arc_ka, arc_s = about.rating("arc_ka"), about.rating("arc_s")
    if not arc_type and arc_ka is None and arc_s is None:
        return
    missing = [
        field(name).in_sentence
        for name, value in (
            ("arc_type", arc_type),
            ("arc_ka", arc_ka),
            ("arc_s", arc_s),
        )
        if value in (None, "")
    ]
    if missing:
        text = say("rating.arc.missing", missing=" and ".join(missing))
        yield Remark(level=LOOK_AGAIN, place=PLACE, text=text, cite=practice())
    if arc_type:
        yield _type(about, str(arc_type))
    rated_ka = about.rating("rated_ka")
    if arc_ka is not None and rated_ka is not None and arc_ka < rated_ka:
        text = say("rating.arc.current", arc=plain(arc_ka), rated=plain(rated_ka))
        yield Remark(
            level=LOOK_AGAIN, place="ratings.arc_ka", text=text, cite=practice()
        )
    if arc_s is not None:
        yield from _duration(about, arc_s)


def _type(about: Compared, arc_type: str) -> Remark:
    """Return what the accessibility type means; IAC is from memory."""
    said = field("arc_type").choice_words(arc_type)
    table = about.table("arc_types")
    rows = {row["row"]: row for row in table.rows}
    if arc_type[0] not in rows:
        text = say("rating.arc.iac", type=said)
        cite = say("rating.arc.iac.source")
        return Remark(level=AS_PUBLISHED, place=PLACE, text=text, cite=cite)
    means = ", ".join(rows[letter]["means"] for letter in arc_type)
    text = say("rating.arc.type", type=said, means=means)
    cite = cited(table.cite(rows[arc_type[-1]]))
    if arc_type[0] == "2":
        cite = cited(table.cite(rows["2"]))
    return Remark(level=AS_PUBLISHED, place=PLACE, text=text, cite=cite)


def _duration(about: Compared, arc_s: float) -> Iterator[Remark]:
    table = about.table("preferred_duration")
    rows = [row for row in table.rows if row["of"] == "arc"]
    if arc_s not in [row["rated_s"] for row in rows]:
        known = ", ".join(plain(row["rated_s"]) for row in rows)
        text = say("rating.arc.duration", value=plain(arc_s), known=known)
        cite = cited(table.cite(rows[0], ""))
        yield Remark(level=LOOK_AGAIN, place="ratings.arc_s", text=text, cite=cite)
