"""How far `witnessmark judge` has come, on a terminal."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

MOVES_FROM = 20000  # rows or bytes: what is done at once needs no bar

Clock = Callable[[], float]


@contextmanager
def progress(
    label: str,
    length: int | None,
    *,
    shown: bool,
    clock: Clock = time.monotonic,
) -> Iterator[Callable[[int, int], None]]:
    """Give what is told how far it is by now, and how many rows these are.

    *length*: where it ends, None: nobody knows. The bar says the time left, and how
    many rows a second went by.
    """
    if not shown or (length is not None and length < MOVES_FROM):
        yield lambda _reached, _rows: None
        return
    start = clock()
    if length is None:
        yield lambda _reached, rows: click.echo(
            f"\r{label}  {_rate(rows, clock() - start)} ", nl=False, err=True
        )
        click.echo(err=True)
        return
    said = ""
    with click.progressbar(
        range(length),
        label=label,
        file=sys.stderr,
        item_show_func=lambda _item: said,
    ) as bar:

        def reached(place: int, rows: int) -> None:
            nonlocal said
            said = _rate(rows, clock() - start)
            bar.update(place - bar.pos)

        yield reached


def _rate(rows: int, seconds: float) -> str:
    rate = rows / max(seconds, 1e-9)
    return f"{rows:,} rows; {rate:,.0f} a second".replace(",", " ")
