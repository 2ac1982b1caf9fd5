"""A fault in a file of fields is said with file, row and key, and nothing starts."""

from pathlib import Path

import pytest

from models.errors import CriteriaError
from models.fields.load import load

GOOD = (
    'water_c = { label = "Water", unit = "degC", read = ["degF"], least = 0, '
    'roles = ["condition"] }'
)
METAL = (
    'metal = { label = "Metal", kind = "choice", choices = ["tin"], '
    'roles = ["nameplate"] }'
)

FAULTS: dict[str, tuple[str, str]] = {
    "an unknown key": (
        GOOD.replace("least", "lest"),
        "fields/x.toml, water_c: 'lest' is none of label, short, ",
    ),
    "a label that is missing": (
        GOOD.replace('label = "Water", ', ""),
        "fields/x.toml, water_c: 'label' is missing",
    ),
    "no roles": (GOOD.replace('"condition"', ""), "'roles' is missing"),
    "an unknown role": (
        GOOD.replace('"condition"', '"weather"'),
        "role 'weather' is none of condition, nameplate, relay, site, column",
    ),
    "an unknown kind": (
        GOOD.replace("least = 0", 'kind = "figure"'),
        "kind 'figure' is none of number, choice, text, yes_no",
    ),
    "an unknown unit": (GOOD.replace('"degC"', '"deg C"'), "unit 'deg C' is none of"),
    "a unit of another quantity": (
        GOOD.replace('"degF"', '"kPa"'),
        "unit 'kPa' is no temperature, as 'degC' is",
    ),
    "a range that holds nothing": (
        GOOD.replace("least = 0", "least = 3, greatest = 3"),
        "nothing lies between 3 and 3",
    ),
    "two lower ends": (
        GOOD.replace("least = 0", "least = 0, above = 0"),
        "'least' and 'above' exclude each other",
    ),
    "an end that is text": (
        GOOD.replace("least = 0", 'least = "0"'),
        "'least' cannot be '0'",
    ),
    "a truth for a number": (
        GOOD.replace("least = 0", "least = true"),
        "'least' cannot be True",
    ),
    "choices of a number": (
        GOOD.replace("least = 0", 'choices = ["a"]'),
        "'choices' does not go with kind 'number'",
    ),
    "a range of a choice": (
        METAL.replace('["tin"]', '["tin"], least = 0'),
        "'least' does not go with kind 'choice'",
    ),
    "a choice without choices": (
        METAL.replace('choices = ["tin"], ', ""),
        "'choices' is missing",
    ),
    "a choice twice": (
        METAL.replace('["tin"]', '["tin", "tin"]'),
        "a choice stands twice",
    ),
    "words of no choice": (
        METAL.replace('["tin"]', '["tin"], words = { tim = "Tin" }'),
        "words for 'tim', which is no choice",
    ),
    "a column that does not say what happens without it": (
        GOOD.replace('"condition"', '"column"'),
        "'blank' is missing",
    ),
    "no row": ('water_c = "Water"', "is no row"),
    "no TOML": ("water_c = {", "fields/x.toml: "),
}


@pytest.mark.parametrize(("text", "said"), FAULTS.values(), ids=FAULTS)
def test_a_fault_in_a_file_is_said_with_its_place(
    tmp_path: Path, text: str, said: str
) -> None:
    (tmp_path / "x.toml").write_text(text, encoding="utf-8")
    with pytest.raises(CriteriaError) as caught:
        load(tmp_path)
    assert said in str(caught.value)
    assert str(caught.value).startswith("fields/x.toml")


def test_a_name_in_two_files_is_a_fault(tmp_path: Path) -> None:
    for name in ("a.toml", "b.toml"):
        (tmp_path / name).write_text(GOOD, encoding="utf-8")
    with pytest.raises(CriteriaError, match=r"fields/b\.toml, water_c: stands in"):
        load(tmp_path)


def test_a_row_in_order_is_read(tmp_path: Path) -> None:
    (tmp_path / "x.toml").write_text(GOOD, encoding="utf-8")
    assert load(tmp_path)["water_c"].refusal == (
        "Water: {typed} must be at least 0 °C."
    )
