"""An organisation's checks of tables as a file, for where there is no database."""

import json
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from models.criteria.checked import Checks, RowCheck, correctable, holds
from models.criteria.loader import table_files
from models.criteria.table_file import Row, TableFile
from models.errors import Fault, InputError
from models.judging import parse_number

SCHEMA = "witnessmark-table-checks-1"
TEXTS = ("table", "row", "digest", "edition", "clause", "reason", "by", "on")
FIELDS = {*TEXTS, "organisation", "figures"}


def checks_text(checks: Checks) -> str:
    """Return the file: JSON, a check a row, figures as text so that none is rounded."""
    rows = [
        {
            "table": table,
            "row": row,
            "digest": check.digest,
            "figures": {name: repr(value) for name, value in check.figures.items()},
            "edition": check.edition,
            "clause": check.clause,
            "reason": check.reason,
            "by": check.by,
            "organisation": check.organisation,
            "on": check.on.isoformat(),
        }
        for table, found in sorted(checks.items())
        for row, check in sorted(found.items())
    ]
    whole = {"schema": SCHEMA, "checks": rows}
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def read_checks(text: str) -> Checks:
    """Read a file of checks; InputError with every fault and its place.

    Strict: a field too many, a row that is not in the table, a figure that cannot
    be corrected, are refused. A check of a figure that this program no longer
    ships is read and, like everywhere, has no effect: see `stale`.
    """
    try:
        whole = json.loads(text, object_pairs_hook=_once)
    except (ValueError, RecursionError) as error:
        raise InputError(
            Fault(field="", message=f"This is no JSON: {error}.")
        ) from error
    if not isinstance(whole, dict) or set(whole) != {"schema", "checks"}:
        raise _refused("", "A file of checks has 'schema' and 'checks', nothing else.")
    if whole["schema"] != SCHEMA or not isinstance(whole["checks"], list):
        raise _refused("schema", f"This program reads '{SCHEMA}'.")
    faults: list[Fault] = []
    found: dict[str, dict[str, RowCheck]] = {}
    for number, item in enumerate(whole["checks"], start=1):
        wrong = list(_faults(item))
        faults += [Fault(field=f"check {number}", message=words) for words in wrong]
        if wrong:
            continue
        rows = found.setdefault(item["table"], {})
        if item["row"] in rows:
            message = f"'{item['row']}' of {item['table']} stands there twice."
            faults.append(Fault(field=f"check {number}", message=message))
        rows[item["row"]] = _check(item)
    if faults:
        raise InputError(*faults)
    return found


def stale(checks: Checks) -> list[str]:
    """Return the rows, each with its table, whose check is of another figure."""
    return [
        f"{table}, {name}"
        for table, rows in checks.items()
        for name, check in rows.items()
        if not holds(
            table_files()[table], _row(table_files()[table], name) or {}, check
        )
    ]


def _refused(field: str, message: str) -> InputError:
    return InputError(Fault(field=field, message=message))


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a name stands there twice")
    return found


def _faults(item: object) -> Iterator[str]:
    if not isinstance(item, dict) or set(item) != FIELDS:
        yield f"has not just the fields {', '.join(sorted(FIELDS))}."
        return
    for field in (*TEXTS, "organisation"):
        if not isinstance(item[field], str):
            yield f"'{field}' is no text."
            return
    table_file = table_files().get(item["table"])
    row = None if table_file is None else _row(table_file, item["row"])
    if table_file is None or row is None:
        yield f"'{item['row']}' of '{item['table']}' is no row of these tables."
        return
    yield from _figure_faults(table_file, row, item["figures"])
    for field in ("edition", "by", "organisation"):
        if not item[field].strip():
            yield f"'{field}' is blank."
    try:
        date.fromisoformat(item["on"])
    except ValueError:
        yield f"'{item['on']}' is no date such as 2026-03-02."


def _figure_faults(table_file: TableFile, row: Row, figures: object) -> Iterator[str]:
    if not isinstance(figures, dict):
        yield "'figures' is no list of figures by column."
        return
    offered = [column.name for column in correctable(table_file, row)]
    for name, typed in figures.items():
        if name not in offered:
            yield f"'{name}' cannot be corrected."
            continue
        try:
            value = parse_number(typed) if isinstance(typed, str) else None
        except InputError as error:
            yield f"'{name}': {error.faults[0].message}"
            continue
        if value is None:
            yield f"'{name}': write the figure as text."
        elif (value > 0, value < 0) != (row[name] > 0, row[name] < 0):
            yield f"'{name}' has another sign than the figure that is shipped."


def _row(table_file: TableFile, name: str) -> Row | None:
    return next((row for row in table_file.rows if row["row"] == name), None)


def _check(item: Mapping[str, Any]) -> RowCheck:
    return RowCheck(
        digest=item["digest"],
        figures={name: parse_number(text) for name, text in item["figures"].items()},
        edition=item["edition"],
        clause=item["clause"],
        reason=item["reason"],
        by=item["by"],
        organisation=item["organisation"],
        on=date.fromisoformat(item["on"]),
    )
