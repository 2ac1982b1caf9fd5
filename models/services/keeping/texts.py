"""What people write: it must be there, of a sane length, and of storable characters."""

from models.errors import Fault

LONGEST_TEXT = 4000  # characters of a note or a reason
LONGEST_VALUE = 40  # characters: more is no figure that somebody read or copied


def storable(text: str) -> bool:
    """Return whether every database and every JSON keeps *text* as it is.

    PostgreSQL refuses U+0000, and half of a surrogate pair has no UTF-8.
    """
    return not any(c == "\0" or "\ud800" <= c <= "\udfff" for c in text)


def value_faults(field: str, text: str) -> list[Fault]:
    """Return what is wrong with a typed figure's length."""
    if len(text) <= LONGEST_VALUE:
        return []
    message = f"Keep it under {LONGEST_VALUE} characters."
    return [Fault(field=field, message=message)]


def text_faults(field: str, text: object, what: str) -> list[Fault]:
    """Return what is wrong with a text that must be there; *what* it should say."""
    if not isinstance(text, str) or not text.strip():
        return [Fault(field=field, message=f"Write {what}.")]
    if len(text) > LONGEST_TEXT:
        message = f"Keep it under {LONGEST_TEXT} characters."
        return [Fault(field=field, message=message)]
    if not storable(text):
        message = "It holds a character that cannot be kept; write it again."
        return [Fault(field=field, message=message)]
    return []
