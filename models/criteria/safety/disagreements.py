"""Where the files of the lines do not agree: what one names and no other has."""

from collections.abc import Iterable, Iterator, Mapping

from models.criteria.safety.line import Group, SafetyBooks, SafetyLine
from models.procedures.procedure import Procedure

WAITS = ("HV4", "HV6")  # conditions of the programme that a procedure may wait for


def disagreements(
    books: SafetyBooks, procedures: Mapping[str, Procedure]
) -> Iterator[str]:
    """Yield what one file names and another does not have, with where it is named."""
    for line in books.lines.values():
        yield from _of_line(line, books)
    for group in books.groups.values():
        yield from _of_group(group, books)
    for caution in books.cautions.values():
        place = f"cautions.toml, {caution.key}"
        yield from _missing(place, "line", caution.lines, books.lines)
        yield from _missing(place, "group", caution.groups, books.groups)
    for shown in books.shown:
        place = f"shown.toml, {shown.text}"
        yield from _missing(place, "line", shown.lines, books.lines)
        groups = [*shown.groups, *shown.entry]
        yield from _missing(place, "group", groups, books.groups)
    for procedure in procedures.values():
        place = f"{procedure.name}, safety"
        groups = [*procedure.safety.groups.values()]
        yield from _missing(place, "group", groups, books.groups)
        yield from _missing(place, "condition", procedure.safety.waits_for, WAITS)


def _of_line(line: SafetyLine, books: SafetyBooks) -> Iterator[str]:
    place = f"lines, {line.code}"
    yield from _missing(place, "field", line.noted, books.fields)
    yield from _missing(place, "change word", line.lapses, books.changes)
    for groups in (line.only.here, line.only.section, line.only.planned):
        yield from _missing(place, "group", groups, books.groups)
    yield from _missing(place, "line", line.when.get("given", ()), books.lines)
    if line.suspends:
        codes = [line.suspends.get("code", ""), *line.suspends.get("until", ())]
        yield from _missing(place, "line", codes, books.lines)
    if "register" in line.when:
        register = line.when["register"]
        compared = {k: v for k, v in line.when.items() if k != "register"}
        yield from _missing(place, "field", compared, books.registers[register])
    else:
        compared = line.when.get("item", {})
        names = {n for names in books.registers.values() for n in names}
        yield from _missing(place, "field", compared, names)
    for name, choices in compared.items():
        known = books.fields[name].choices if name in books.fields else ()
        yield from _missing(place, f"choice of {name}", choices, known)


def _of_group(group: Group, books: SafetyBooks) -> Iterator[str]:
    for one in group.lists:
        for scope, asked in (("test", one.before), ("after", one.after)):
            place = f"lists.toml, {group.code}, {one.of}, {scope}"
            known = [c for c, line in books.lines.items() if line.scope == scope]
            yield from _missing(place, "line", [a.code for a in asked], known)


def _missing(
    place: str, what: str, names: Iterable[str], known: Iterable[str]
) -> Iterator[str]:
    there = set(known)
    yield from (f"{place}: there is no {what} '{n}'" for n in names if n not in there)
