"""Values of a table as a page prints them."""

from models.judging.wording import plain

GROUPED_FROM = 1e4  # from here on digits stand in threes
TIE = "\u00a0"

Value = float | str | bool  # of a number, a word, or yes and no


def value_words(value: Value) -> str:
    """Return what stands in a cell; a number with its digits in threes: 100 000."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    said = plain(float(value)).replace("-", "−")
    if abs(value) < GROUPED_FROM or "." in said or "e" in said:
        return said
    return f"{int(value):,}".replace(",", TIE).replace("-", "−")
