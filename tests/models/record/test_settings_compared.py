"""Settings as issued and as read back: alike, added, missing, different."""

import hashlib

import pytest

from models.errors import InputError
from models.record.settings_compared import compare_settings

ISSUED = b"51P1P = 5.30\n51P1C = U3\n# group 1\n50P1P: 40\n\nTID,FEEDER 7\n"
ALIKE = {
    "to the byte": (ISSUED, []),
    "a number written otherwise": (ISSUED.replace(b"5.30", b"5.3"), []),
    "other signs and breaks": (
        b"51P1P: 5.3\r\n51P1C=U3\r\n50P1P=40.0\rTID\tFEEDER 7",
        [],
    ),
    "a value differs": (
        ISSUED.replace(b"40", b"41"),
        [("differs", "50P1P", "40", "41")],
    ),
    "one is missing": (
        ISSUED.replace(b"51P1C = U3\n", b""),
        [("missing", "51P1C", "U3", "")],
    ),
    "one is added": (ISSUED + b"79EN = Y\n", [("added", "79EN", "", "Y")]),
    "a blank value": (
        ISSUED.replace(b"FEEDER 7", b""),
        [("differs", "TID", "FEEDER 7", "")],
    ),
}


@pytest.mark.parametrize(("read", "differences"), ALIKE.values(), ids=ALIKE)
def test_differences(read: bytes, differences: list[tuple[str, ...]]) -> None:
    found = compare_settings(ISSUED, read)
    told = [(one.word, one.name, one.issued, one.read) for one in found.differences]
    assert told == differences
    of_issued = sum(1 for one in differences if one[0] != "added")
    assert found.alike == 4 - of_issued
    assert found.same_file == (read == ISSUED)
    assert found.read_digest == hashlib.sha256(read).hexdigest()


REFUSED = {
    "nothing issued": (b"", ISSUED, {"issued": "Choose a file, or paste the list."}),
    "no setting in it": (
        ISSUED,
        b"# read back\n",
        {"read": "No setting stands in it."},
    ),
    "a line that is none": (
        ISSUED,
        b"51P1P = 5.3\ngroup one\n",
        {"read": "Line 2 is no setting: write 'name = value'."},
    ),
    "twice": (
        b"51P1P = 5.3\n51P1P = 5.4\n",
        ISSUED,
        {"issued": "Line 2: '51P1P' stands twice."},
    ),
    "too long": (
        ISSUED,
        b"a = 1\n" * 5001,
        {"read": "These are 5002 lines; 5000 are taken."},
    ),
    "too large": (
        ISSUED,
        b"x" * 1_000_001,
        {"read": "The list is larger than 1000 kB."},
    ),
}


@pytest.mark.parametrize(("issued", "read", "faults"), REFUSED.values(), ids=REFUSED)
def test_what_is_no_list_is_said(
    issued: bytes, read: bytes, faults: dict[str, str]
) -> None:
    with pytest.raises(InputError) as refused:
        compare_settings(issued, read)
    assert {f.field: f.message for f in refused.value.faults} == faults
