"""Which members each act has, and how each is read: `models.record.shapes.safety`."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, get_args

from models.record.shapes.safety import Register, Scope
from models.services.safety import member_values as read

SCOPES: tuple[str, ...] = get_args(Scope)
REGISTERS: tuple[str, ...] = get_args(Register)


@dataclass(frozen=True, slots=True, kw_only=True)
class ActKind:
    """A kind of act.

    *about* is the member that names what the act is about; *span* is set for those
    that open or end a crew, an isolation or a stop, *opens* for the first of them.
    """

    about: str
    members: Mapping[str, read.Reader]
    span: str | None = None
    opens: bool = False


def _kind(
    about: str, span: str | None = None, *, opens: bool = False, **members: read.Reader
) -> ActKind:
    members = {about: read.identifier, **members}
    return ActKind(about=about, members=members, span=span, opens=opens)


ACTS: dict[str, ActKind] = {
    "open_crew": _kind(
        "crew", "crew", opens=True, lineups=read.identifiers, planned_end=read.time
    ),
    "extend_crew": _kind("crew", lineups=read.identifiers),
    "end_crew": _kind("crew", "crew"),
    "sign_off": _kind("crew"),
    "open_isolation": _kind(
        "isolation",
        "isolation",
        opens=True,
        lineup=read.identifier,
        section=read.name_or_none,
        clearance=read.name,
    ),
    "list": _kind(
        "of", register=read.one_of(*REGISTERS), item=read.name, fields=read.noted
    ),
    "line": _kind(
        "of",
        scope=read.one_of(*SCOPES),
        code=read.name,
        item=read.name_or_none,
        state=read.one_of("confirmed", "not_applicable"),
        reason=read.sentence_or_none,
        noted=read.noted,
    ),
    "enter": _kind(
        "cell",
        isolation=read.identifier_or_none,
        crew=read.identifier,
        stays=read.names_by_cell,
    ),
    "leave": _kind("cell"),
    "change": _kind(
        "of", what=read.name, item=read.name_or_none, cause=read.sentence_or_blank
    ),
    "put_back": _kind("isolation", item=read.name, torque=read.name_or_none),
    "open_return": _kind("isolation", cells=read.identifiers_or_none),
    "hand_back": _kind(
        "isolation", "isolation", cells=read.identifiers_or_none, to=read.name
    ),
    "stop": _kind("stop", "stop", opens=True),
    "release": _kind(
        "stop",
        "stop",
        reason=read.sentence,
        put_right=read.sentence,
        agrees=read.yes_or_no,
    ),
    "override": _kind(
        "of",
        scope=read.one_of(*SCOPES),
        code=read.name,
        reason=read.sentence,
        names=read.names,
    ),
    "dc_off": _kind("card", dc_s=read.seconds),
}
# What a member is that was left out, or sent as null.
EMPTY: dict[str, Any] = {"noted": {}, "stays": {}, "names": []}
