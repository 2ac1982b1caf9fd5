"""Reading records: what is wrong is refused with a sentence that says what to do."""

import io
import re
import time
import zipfile
from collections.abc import Callable, Sequence
from functools import partial

import numpy as np
import pytest

from models.errors import InputError
from models.waveform.measure import Choice, measure
from models.waveform.parts import Sent, one_file
from models.waveform.read import Waveform, read_waveform
from tests.waveform_records import Made, combined, configuration, data, pair, plain

ONSET = Choice(start="onset", start_place=0, end=0)


def read(files: Sequence[Sent]) -> Waveform:
    return read_waveform(one_file(files).data)


def changed(made: Made, old: str, new: str) -> list[Sent]:
    """The record with its configuration changed by a regular expression."""
    text = configuration(made)
    after = re.sub(old, new, text, count=1, flags=re.MULTILINE)
    assert after != text
    return plain(after, data(made))


BINARY = Made(kind="BINARY", revision="2013")
ASCII = Made()


def cut(made: Made, bytes_left: float) -> list[Sent]:
    rows = data(made)
    return plain(configuration(made), rows[: int(len(rows) * bytes_left)])


def without_row(made: Made) -> list[Sent]:
    rows = data(made).splitlines(keepends=True)
    text = configuration(made, samples=len(rows) - 1)
    return plain(text, b"".join(rows[:100] + rows[101:]))


def repeated_stamps() -> list[Sent]:
    made = Made(by_stamps=True)
    rows = data(made).splitlines(keepends=True)
    rows[5] = rows[5].replace(b"6,1042,", b"6,833,", 1)
    return plain(configuration(made), b"".join(rows))


def bomb() -> list[Sent]:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("shot.dat", b"0" * 70_000_000)
    return [Sent(name="shot.zip", data=packed.getvalue())]


REFUSED: dict[str, tuple[Callable[[], list[Sent]], str]] = {
    "half of the binary data": (partial(cut, BINARY, 0.5), "hold 1,920"),
    "all but a byte": (partial(cut, BINARY, 0.99999), "hold 3,839"),
    "half of the text": (partial(cut, ASCII, 0.5), "the data were cut"),
    "no data": (partial(cut, ASCII, 0), "no file ending in .dat"),
    "another type of data": (
        partial(changed, BINARY, "^BINARY", "BINARY32"),
        "another type",
    ),
    "half of a combined file": (
        lambda: [Sent(name="shot.cff", data=combined(BINARY).data[:30_000])],
        "it was cut",
    ),
    "a row is missing": (partial(without_row, ASCII), "go from 100 to 102"),
    "nanosecond stamps over microsecond data": (
        lambda: pair(Made(by_stamps=True, digits=9)),
        "its time is in another unit",
    ),
    "microsecond stamps over nanosecond data": (
        lambda: pair(Made(by_stamps=True, stamp_s=1e-9)),
        "its time is in another unit",
    ),
    "stamps and rate differ": (
        partial(changed, ASCII, "^4800,", "9600,"),
        "one of them is wrong",
    ),
    "a stamp is repeated": (repeated_stamps, "does not rise"),
    "a comma in the station": (lambda: pair(Made(station="A, B")), "take it out"),
    "a comma in the station of 1991": (
        lambda: pair(Made(station="A, B", revision="1991")),
        "take it out",
    ),
    "an unknown revision": (partial(changed, ASCII, "1999", "2005"), "2005"),
    "a comma in a channel's name": (partial(changed, ASCII, "IA", "I,A"), "Line 3"),
    "channels do not add up": (partial(changed, ASCII, "3,1A", "4,1A"), "Line 2"),
    "a billion samples": (
        lambda: plain(configuration(BINARY, samples=999_999_999), data(BINARY)),
        "at most 1,000,000",
    ),
    "another frequency than a number": (
        partial(changed, ASCII, "^60", "sixty"),
        "Line 6",
    ),
    "no end of the configuration": (
        lambda: plain("\n".join(configuration(ASCII).splitlines()[:4]), data(ASCII)),
        "ends before its line",
    ),
    "a value that is none": (
        lambda: plain(
            configuration(ASCII), data(ASCII).replace(b"1,0,0,", b"1,0,x,", 1)
        ),
        "cannot be read",
    ),
    "a state of 2": (
        lambda: plain(
            configuration(ASCII), data(ASCII).replace(b",0,0\r\n", b",2,0\r\n", 1)
        ),
        "not 0 or 1",
    ),
    "two records": (
        lambda: [*pair(ASCII), *pair(ASCII, "other")],
        "2 files ending in .cfg",
    ),
    "halves of two records": (
        lambda: [pair(ASCII)[0], pair(ASCII, "other")[1]],
        "not of one record",
    ),
    "a zip that unfolds without end": (bomb, "unfolds to more"),
    "no record at all": (
        lambda: [Sent(name="a.cff", data=b"MZ\x00\x01" * 100)],
        "it is no CFF",
    ),
}


@pytest.mark.parametrize(("files", "words"), REFUSED.values(), ids=REFUSED)
def test_what_is_wrong_is_refused(files: Callable[[], list[Sent]], words: str) -> None:
    with pytest.raises(InputError) as caught:
        read(files())
    (fault,) = caught.value.faults
    assert words in fault.message
    assert fault.field == "file"
    assert re.search(r"(Export|Send|Choose|take it out|Record|Save)", fault.message)


TAKEN: dict[str, list[Sent]] = {
    "mixed case": [
        Sent(name=r"C:\SHOT.cfg", data=pair(BINARY)[0].data),
        Sent(name="shot.DAT", data=pair(BINARY)[1].data),
    ],
    "UTF-8 with a mark": plain("\ufeff" + configuration(ASCII), data(ASCII)),
    "Latin-1": [
        Sent(name="a.cfg", data=configuration(Made(station="Köln")).encode("latin-1")),
        Sent(name="a.dat", data=data(ASCII)),
    ],
    "an end-of-text sign": plain(
        configuration(BINARY) + "\x1a", data(BINARY) + b"\x1a"
    ),
    "an end-of-text sign in text": plain(
        configuration(ASCII), data(ASCII) + b"\x1a\x1a"
    ),
    "stamps without a fraction": plain(
        configuration(Made(digits=0, trigger_s=0.0)), data(ASCII)
    ),
    "no factor": changed(ASCII, "^1\r\n\\Z", ""),
}


@pytest.mark.parametrize("files", TAKEN.values(), ids=TAKEN)
def test_what_is_odd_but_right_is_read(files: list[Sent]) -> None:
    found = measure(read(files), ONSET)
    assert abs(found.time_s - 0.427917) <= found.unsure_s


def test_a_station_is_read_without_a_mark_and_in_its_letters() -> None:
    assert read(TAKEN["UTF-8 with a mark"]).configuration.station == "STN"
    assert read(TAKEN["Latin-1"]).configuration.station == "Köln"


@pytest.mark.parametrize(
    ("revision", "kind"),
    [("1999", "ASCII"), ("2013", "BINARY"), ("2013", "BINARY32"), ("2013", "FLOAT32")],
)
def test_missing_values_are_none_and_are_refused_in_the_window(
    revision: str, kind: str
) -> None:
    made = Made(revision=revision, kind=kind)
    gap = len(made.times) // 2
    record = read(plain2(made, [gap]))
    assert np.flatnonzero(np.isnan(record.values[0])).tolist() == [gap]
    with pytest.raises(InputError, match="missing values"):
        measure(record, ONSET)


def plain2(made: Made, gaps: Sequence[int]) -> list[Sent]:
    return plain(configuration(made), data(made, gaps))


def test_a_value_of_minus_one_of_1991_is_a_value() -> None:
    made = Made(revision="1991", kind="BINARY", amperes=0.02, phase=-0.03)
    record = read(pair(made))
    assert not np.isnan(record.values[0]).any()
    assert "kept as values" in " ".join(record.remarks)


def test_the_same_files_are_kept_as_the_same_bytes() -> None:
    files = pair(BINARY)
    kept = one_file(files)
    assert kept.name == "shot.zip"
    assert one_file(files[::-1]).data == kept.data
    assert one_file([Sent(name="sent.zip", data=kept.data)]).data == kept.data
    assert one_file([combined(BINARY)]).data == combined(BINARY).data


def test_a_contact_that_never_rests_and_a_name_without_end_take_no_time() -> None:
    made = Made(rates=((10_000.0, 20.0),), kind="BINARY")
    rows = np.frombuffer(data(made), dtype="<u4,<u4,<i2,<u2").copy()
    rows["f3"] = np.arange(len(rows)) % 2
    text = configuration(made).replace("TRIP", "T" * 300_000)
    record = read(plain(text, rows.tobytes()))
    assert len(record.status[0].name) == 64
    began = time.perf_counter()
    measure(record, Choice(start="trigger", end=0, rest="before"))
    assert time.perf_counter() - began < 2


def second_reader(files: Sequence[Sent]) -> list[list[float]]:
    """Read a text record without the program: time, analog and status of each row."""
    lines = files[0].data.decode().splitlines()
    analog = int(lines[1].split(",")[1][:-1])
    scales = [float(line.split(",")[5]) for line in lines[2 : 2 + analog]]
    rate = float(lines[2 + int(lines[1].split(",")[0]) + 2].split(",")[0])
    rows = []
    for at, line in enumerate(files[1].data.decode().splitlines()):
        cells = line.split(",")
        values = [float(c) * s for c, s in zip(cells[2:], scales, strict=False)]
        rows.append([at / rate, *values, *map(float, cells[2 + analog :])])
    return rows


def test_a_second_reader_of_twenty_lines_reads_the_same() -> None:
    files = pair(ASCII)
    record = read(files)
    ours = np.column_stack([record.time, *record.values, *record.states])
    np.testing.assert_allclose(ours, second_reader(files), rtol=1e-12, atol=1e-12)
