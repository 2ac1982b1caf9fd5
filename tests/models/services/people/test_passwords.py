"""What a new password must be."""

import pytest

from models.errors import InputError
from models.services.people.passwords import COMMON, check_password, why_not

OWN = ("Wren Tern", "wtern")
# password -> the words of the refusal, '' for none
CASES = {
    "eleven char": "at least 12 characters",
    "": "This has 0",
    "twelve chars": "",
    "a sentence is fine": "",
    "пароль и ещё слово": "",
    "abababababab": "5 different",
    "            ": "5 different",
    "password1234": "guesser",
    "PASSWORD-1234": "guesser",
    "12-Qwertyuiop": "guesser",
    "123456789012": "guesser",
    "987654321098": "guesser",
    "135792468013": "",
    "wren tern 12": "your name",
    "WTERN1234567": "your name",
    "witnessmark1": "your name",
    "wren counts to eight": "",
}


@pytest.mark.parametrize(("password", "said"), CASES.items(), ids=map(repr, CASES))
def test_what_may_be_a_password(password: str, said: str) -> None:
    why = why_not(password, OWN)
    assert said in why and bool(said) == bool(why)


def test_the_fault_stands_at_its_field() -> None:
    with pytest.raises(InputError) as refused:
        check_password("short", OWN, field="new")
    assert [fault.field for fault in refused.value.faults] == ["new"]


def test_what_is_common_is_letters_alone() -> None:
    """Digits and signs are taken away before it is looked up."""
    assert [word for word in COMMON if not word.isalpha() or word != word.lower()] == []
    assert len(COMMON) > 80
