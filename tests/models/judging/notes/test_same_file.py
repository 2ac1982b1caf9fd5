"""Files as issued and read back: digests of FIPS 180-4, taken here by hashlib."""

from hashlib import sha256

import pytest

from models.judging import Criteria, Reading
from models.procedures import Subject, compile_rule, judge

ABC, NOTHING = sha256(b"abc").hexdigest(), sha256(b"").hexdigest()
SAID = {
    "one file": (ABC, ABC, "Both files are one to the byte: SHA-256 ba7816bf8f01…"),
    "in groups and capitals": (ABC, f"{ABC[:8]} {ABC[8:]}".upper(), "Both files are"),
    "two files": (ABC, NOTHING, "The files are not the same to the byte: SHA-256 ba78"),
    "a digit short": (ABC, ABC[1:], "Whether both files are one cannot be told"),
    "only one is given": (ABC, None, None),
    "neither": (None, None, None),
}


@pytest.mark.parametrize(("issued", "read", "said"), SAID.values(), ids=SAID)
def test_what_is_said(
    criteria: Criteria, issued: str | None, read: str | None, said: str | None
) -> None:
    rule = compile_rule("relay_settings", Subject(), criteria)
    conditions = {"settings_id": "F-07", "issued_digest": issued, "read_digest": read}
    known = {name: value for name, value in conditions.items() if value is not None}
    (judged,) = judge([(rule, Reading(key="1", text="as_expected", conditions=known))])
    assert judged.verdict == "within"
    lines = [line for line in judged.working if "file" in line]
    assert len(lines) == (said is not None)
    assert said is None or lines[0].startswith(said)
