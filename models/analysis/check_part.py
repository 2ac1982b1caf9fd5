"""Check the cells of a part, column by column, and make numbers and codes of them."""

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from hashlib import blake2b
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.analysis.parts import Misplaced, Part
from models.analysis.readings_file import (
    CHOICES,
    NUMBERS,
    TEXTS,
    choice_in,
    number_in,
    text_in,
)
from models.analysis.typed_rows import CODES, DIGEST, TESTS, Rows, Texts, fields_of
from models.errors import Fault, InputError
from models.judging import (
    Outcome,
    RangedAccuracy,
    check_reading,
    parse_accuracy,
    parse_value,
)
from models.judging.batch import OUTCOME_CODES, UNIT_CODES, stated_at
from models.judging.quantities import UNITS, said_unit, unit_name
from models.procedures import PROCEDURES
from models.words import say

NAN = float("nan")
REMEMBERED = 65536  # texts of a column
# Most values are written so; whatever else there is the core's own parser reads.
PLAIN = re.compile(r"[0-9]{1,15}(\.[0-9]{1,15})?")
# Rows are said in order, and what is wrong with one row in this order.
BLANK, WORD, TWICE, NUMBER, ACCURACY, VALUE = range(6)


class _Texts(dict[str, Any]):
    """What each distinct text of a column holds; those that are wrong, and why."""

    def __init__(self, read: Callable[[str], Any], blank: Any) -> None:
        super().__init__()
        self.wrong: dict[str, Sequence[Fault]] = {}
        self._read, self._blank = read, blank

    def __missing__(self, text: str) -> Any:
        if len(self) >= REMEMBERED:
            self.clear()
        stripped, found = text.strip(), self._blank
        if stripped:
            try:
                found = self._read(stripped)
            except InputError as error:
                self.wrong[text] = error.faults
        self[text] = found
        return found

    def of(self, cells: Sequence[str]) -> list[Any]:
        """Return what each cell holds."""
        return list(map(self.__getitem__, cells))


class Checked(NamedTuple):
    """A part that was read: ids and values as typed, the rest as numbers and codes."""

    places: Sequence[Any]
    ids: list[str]
    values: list[str]
    rows: Rows
    faults: list[Misplaced]
    texts: Texts


class PartChecker:
    """Reads the parts of one file; a text that comes again is read once."""

    def __init__(self, header: Sequence[str], word: str) -> None:
        """Take the columns of the file, and what a place in it is called."""
        self._header, self._word = header, word
        self._fields = fields_of(header)
        self._texts = {name: _Texts(*READ[name]) for name in READ if name in header}

    def check(self, part: Part) -> Checked:
        """Return the part as numbers and codes, with all that is wrong in it."""
        faults = list(part.faults)
        rows = np.zeros(len(part.places), self._fields)
        said: dict[str, list[str]] = {}
        ids = [cell.strip() for cell in part.cells.get("id", ())]
        values = [cell.strip() for cell in part.cells["value"]]
        for name, texts in self._texts.items():
            if name == "accuracy":
                texts.of(list(set(part.cells[name])))
            elif name in TEXTS:
                rows[name], said[name] = _numbered(texts.of(part.cells[name]))
            else:
                self._fill(rows, name, texts.of(part.cells[name]))
            if texts.wrong:
                faults.extend(self._wrong(part, name, texts))
        if "accuracy" in self._texts:
            faults.extend(self._state(part, rows))
        faults.extend(self._blank(part, ids, values))
        faults.extend(self._unfit(part, rows, values))
        return Checked(part.places, ids, values, rows, faults, said)

    def at(self, place: Any, rank: int, name: str, message: str) -> Misplaced:
        """Return a fault of a cell."""
        field = f"{self._word} {place}, column {name}"
        return Misplaced(place, rank, Fault(field=field, message=message))

    def _fill(self, rows: Rows, name: str, found: list[Any]) -> None:
        if name == "value":
            low, high, outcome = np.array(found, np.float64).reshape(-1, 3).T
            rows["low"], rows["high"], rows["outcome"] = low, high, outcome
        elif name == "group":
            rows["group"] = _with_tests(np.array(found, f"S{DIGEST}"), rows["test"])
        else:
            rows[name] = found

    def _state(self, part: Part, rows: Rows) -> Iterator[Misplaced]:
        """Fill in what is stated at each value; yield where a range's unit is another.

        The ranges of an instrument are of one quantity.
        """
        cells = part.cells["accuracy"]
        places = {text: place for place, text in enumerate(dict.fromkeys(cells))}
        kinds = self._texts["accuracy"].of(list(places))
        which = np.array(list(map(places.__getitem__, cells)), np.intp)
        fits = _fitting_ranges(kinds)[which, rows["unit"]] | (rows["outcome"] != 0)
        value = np.where(np.isnan(rows["low"]), rows["high"], rows["low"])
        known = np.where(fits, value, np.nan)
        stated = stated_at(kinds, which, known, rows["unit"].astype(np.intp))
        for name, column in zip(STATED, stated, strict=True):
            rows[name] = column
        for row in np.flatnonzero(~fits & (rows["unit"] != 0)).tolist():
            unit = said_unit(UNIT_CODES[rows["unit"][row]])
            message = say("fault.accuracy_unit", unit=unit)
            yield self.at(part.places[row], ACCURACY, "accuracy", message)

    def _wrong(self, part: Part, name: str, texts: _Texts) -> Iterator[Misplaced]:
        for place, cell in zip(part.places, part.cells[name], strict=True):
            if cell in texts.wrong and name != "value":
                for fault in texts.wrong[cell]:
                    yield self.at(place, RANKS.get(name, WORD), name, fault.message)

    def _blank(
        self, part: Part, ids: list[str], values: list[str]
    ) -> Iterator[Misplaced]:
        tests = [cell.strip() for cell in part.cells["test"]]
        needed = {"id": ids, "test": tests, "value": values}
        for name, cells in needed.items():
            if name not in self._header or all(cells):
                continue
            for place, cell in zip(part.places, cells, strict=True):
                if not cell:
                    yield self.at(place, BLANK, name, "must not be blank.")

    def _unfit(self, part: Part, rows: Rows, values: list[str]) -> Iterator[Misplaced]:
        """Yield the faults of values and units; no unit is kept with an outcome."""
        units = part.cells.get("unit")
        for row in np.flatnonzero(~_fits(rows)).tolist():
            test = TESTS[rows["test"][row]]
            if test is None or not values[row]:
                continue
            unit = units[row].strip() or None if units else None
            try:
                check_reading(PROCEDURES[test], values[row], unit)
            except InputError as error:
                for fault in error.faults:
                    place = part.places[row]
                    yield self.at(place, VALUE, fault.field, fault.message)
        rows["unit"][rows["outcome"] != 0] = 0


def _value(text: str) -> tuple[float, float, int]:
    """Return the bounds, NaN where there is none, and the outcome's code."""
    if PLAIN.fullmatch(text):
        number = float(text)
        return number, number, 0
    value = parse_value(text)
    if isinstance(value, Outcome):
        return NAN, NAN, OUTCOME_CODES.index(value)
    low, high = value.low, value.high
    return NAN if low is None else low, NAN if high is None else high, 0


def _unit(text: str) -> int:
    """Return the unit's code; zero, which fits no number, for one not known."""
    return UNIT_CODES.index(unit_name(text))


def _group(text: str) -> bytes:
    """Return what stands for a group; its last byte is left for the test's code."""
    return blake2b(text.encode(), digest_size=DIGEST - 1).digest()


def _choice(name: str, text: str) -> int:
    return CODES[name].index(choice_in(name, text))


def _numbered(cells: Sequence[str]) -> tuple[list[int], list[str]]:
    """Return the place of each text among the distinct ones, and these; 0 is blank."""
    places = {"": 0}
    codes = [places.setdefault(cell, len(places)) for cell in cells]
    return codes, list(places)


READ: dict[str, tuple[Callable[[str], Any], Any]] = {
    **{name: (partial(number_in, name), NAN) for name in NUMBERS},
    **{name: (partial(_choice, name), 0) for name in CHOICES},
    **{name: (partial(text_in, name), "") for name in TEXTS},
    "value": (_value, (NAN, NAN, 0)),
    "unit": (_unit, 0),
    "accuracy": (parse_accuracy, None),
    "group": (_group, b""),
}
# The fields that `Stated` fills, in its order.
STATED = (
    "accuracy_pct",
    "accuracy_fixed",
    "accuracy_unit",
    "range_low",
    "range_high",
    "beyond_ranges",
)
RANKS = {**dict.fromkeys(NUMBERS, NUMBER), "accuracy": ACCURACY}


def _with_tests(digests: NDArray[Any], tests: NDArray[Any]) -> NDArray[Any]:
    """Return the digests, those of a group ending in the code of the row's test."""
    digests = np.ascontiguousarray(digests)
    grouped = digests != b""
    digests.view(np.uint8).reshape(-1, DIGEST)[grouped, -1] = tests[grouped]
    return digests


def _fits(rows: Rows) -> NDArray[np.bool_]:
    """Return where value and unit may be a reading of the row's test."""
    outcome, number = rows["outcome"], rows["outcome"] == 0
    known = ~np.isnan(rows["low"]) | ~np.isnan(rows["high"])
    negative = (rows["low"] < 0) | (rows["high"] < 0)
    if negative.any():
        negative &= ~SIGNED[rows["test"]]
    of_unit, of_outcome = FITTING
    fits = known & ~negative & of_unit[rows["test"], rows["unit"]]
    fits_outcome = of_outcome[rows["test"], outcome]
    return np.asarray(np.where(number, fits, fits_outcome))


def _fitting_ranges(kinds: Sequence[Any]) -> NDArray[np.bool_]:
    """Return, for each accuracy, with which units a value may be compared with it."""
    fits = np.ones((len(kinds), len(UNIT_CODES)), np.bool_)
    for at, kind in enumerate(kinds):
        unit = kind.ranges[0].unit if isinstance(kind, RangedAccuracy) else None
        if unit is not None:
            fits[at] = [
                one in UNITS and UNITS[one].quantity == UNITS[unit].quantity
                for one in UNIT_CODES
            ]
    return fits


def _fitting() -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Return, for each test, which units and which outcomes it has."""
    units = np.zeros((len(TESTS), len(UNIT_CODES)), np.bool_)
    outcomes = np.zeros((len(TESTS), len(OUTCOME_CODES)), np.bool_)
    for at, procedure in enumerate(PROCEDURES.values(), start=1):
        units[at] = [unit in procedure.units for unit in UNIT_CODES]
        outcomes[at] = [outcome in procedure.outcomes for outcome in OUTCOME_CODES]
    return units, outcomes


FITTING = _fitting()
SIGNED = np.array([False, *(procedure.signed for procedure in PROCEDURES.values())])
