"""Canonical JSON against the examples that RFC 8785 prints, and the chain's link."""

import hashlib
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.signing.chain import LARGEST_INTEGER, canonical, link

# RFC 8785, 3.2.3: property names sorted by UTF-16 code units. The order that the
# document prints is: carriage return, "1", U+0080, ö, euro sign, smiling face
# (a surrogate pair, D83D DE00), Hebrew letter dalet with dagesh (FB33).
SORTED = {
    "\u20ac": "Euro Sign",
    "\r": "Carriage Return",
    "\ufb33": "Hebrew Letter Dalet With Dagesh",
    "1": "One",
    "\U0001f600": "Emoji: Grinning Face",
    "\u0080": "Control",
    "\u00f6": "Latin Small Letter O With Diaeresis",
}
ORDER = [
    "Carriage Return",
    "One",
    "Control",
    "Latin Small Letter O With Diaeresis",
    "Euro Sign",
    "Emoji: Grinning Face",
    "Hebrew Letter Dalet With Dagesh",
]

# RFC 8785, 3.2.2 and 3.2.4: the sample's string and literals; its numbers are left
# out, since measured values are kept as text here.
SAMPLE = {
    "string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/",
    "literals": [None, True, False],
}
SAMPLE_HEX = (
    "7b 22 6c 69 74 65 72 61 6c 73 22 3a 5b 6e 75 6c 6c 2c 74 72 75 65 2c 66 61 6c "
    "73 65 5d 2c 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30 30 66 5c 6e "
    "41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22 7d"
)


def test_names_are_sorted_as_the_document_prints_them() -> None:
    written = canonical(SORTED).decode()
    assert list(json.loads(written).values()) == ORDER


def test_strings_and_literals_are_the_bytes_that_the_document_prints() -> None:
    assert canonical(SAMPLE) == bytes.fromhex(SAMPLE_HEX)


CASES: dict[str, tuple[Any, str]] = {
    "nothing in an object": ({}, "{}"),
    "nothing in a list": ([], "[]"),
    "no blanks": ({"a": [1, {"b": 2}]}, '{"a":[1,{"b":2}]}'),
    "sorted at each depth": (
        {"b": {"d": 1, "c": 2}, "a": 0},
        '{"a":0,"b":{"c":2,"d":1}}',
    ),
    "lists keep their order": ([3, 1, 2], "[3,1,2]"),
    "a tuple is a list": ((1, 2), "[1,2]"),
    "the largest whole number": (LARGEST_INTEGER, "9007199254740992"),
    "a negative number": (-7, "-7"),
    "yes and no are no numbers": ([True, False, 1, 0], "[true,false,1,0]"),
    "short escapes": ('\b\t\n\f\r"\\', r'"\b\t\n\f\r\"\\"'),
    "other controls in lower case": ("\x00\x1f\x7f", '"\\u0000\\u001f\x7f"'),
    "a solidus stays": ("a/b", '"a/b"'),
    "beyond the plane": ("🔧", '"🔧"'),
    "line separators stay": ("\u2028\u2029", '"\u2028\u2029"'),
    "no normalising": ("e\u0301é", '"e\u0301é"'),
    "capitals before small letters": ({"a": 1, "B": 2, "A": 3}, '{"A":3,"B":2,"a":1}'),
    "shorter before longer": ({"ab": 1, "a": 2, "": 3}, '{"":3,"a":2,"ab":1}'),
}


@pytest.mark.parametrize(("value", "text"), CASES.values(), ids=CASES)
def test_canonical(value: Any, text: str) -> None:
    assert canonical(value) == text.encode()


REFUSED: dict[str, tuple[Any, type[Exception]]] = {
    "a float": (1.5, TypeError),
    "a whole float": (2.0, TypeError),
    "a float deep inside": ({"a": [{"b": 0.1}]}, TypeError),
    "beyond 2^53": (LARGEST_INTEGER + 1, ValueError),
    "below -2^53": (-LARGEST_INTEGER - 1, ValueError),
    "bytes": (b"x", TypeError),
    "a set": ({1}, TypeError),
    "half of a surrogate pair": ("\ud83d", ValueError),
    "half of a pair in a name": ({"\ude00": 1}, ValueError),
}


@pytest.mark.parametrize(("value", "error"), REFUSED.values(), ids=REFUSED)
def test_what_has_no_canonical_form_is_refused(
    value: Any, error: type[Exception]
) -> None:
    with pytest.raises(error):
        canonical(value)


def test_a_link_is_the_hash_over_what_was_and_what_is() -> None:
    text = b'{"content":{"a":1},"previous":"00"}'
    assert link("00", {"a": 1}) == hashlib.sha256(text).hexdigest()
    assert link("01", {"a": 1}) != link("00", {"a": 1}) != link("00", {"a": 2})


VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-LARGEST_INTEGER, LARGEST_INTEGER)
    | st.text(st.characters(codec="utf-8")),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text(st.characters(codec="utf-8")), inner, max_size=4)
    ),
    max_leaves=12,
)


@pytest.mark.property
@given(VALUES)
def test_what_is_written_reads_back_and_is_written_the_same(value: Any) -> None:
    written = canonical(value)
    read = json.loads(written)
    assert read == value and canonical(read) == written


@pytest.mark.property
@given(st.dictionaries(st.text(st.characters(codec="utf-8")), st.integers(0, 9)))
def test_the_order_of_insertion_does_not_matter(value: dict[str, int]) -> None:
    turned = dict(reversed(list(value.items())))
    assert canonical(turned) == canonical(value)
    names = list(json.loads(canonical(value)))
    assert names == sorted(names, key=lambda name: name.encode("utf-16-be"))


@pytest.mark.property
@given(
    st.recursive(
        st.none()
        | st.booleans()
        | st.integers(-9, 9)
        | st.text(st.characters(codec="utf-8")),
        lambda inner: st.dictionaries(st.text("abcXYZ_019"), inner, max_size=4),
        max_leaves=9,
    )
)
def test_for_ascii_names_the_standard_library_writes_the_same(value: Any) -> None:
    plain = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    assert canonical(value) == plain.encode()
