"""Texts, units and numbers on which two readers may differ."""

import random

SPELLINGS = {
    "GOhm": ("GOhm", "GΩ", "Gohms", " G ohm", "G\u2126"),
    "MOhm": ("MOhm", "MΩ", "MOHM"),
    "uOhm": ("uOhm", "µΩ", "\u03bcohm"),
    "s": ("s", "sec"),
    "ms": ("ms", "msec"),
    "Torr": ("Torr", "torr"),
    "Pa": ("Pa", "pa"),
}
ODD_TEXTS = (
    "",
    "  ",
    ">",
    "5,0",
    "1 000",
    "1_000",
    "\u0663",
    "-1",
    "-0",
    "1e31",
    "1e999",
    "5.",
    ".5",
    "+.5e+1",
    "5e",
    ">>5",
    "> 5",
    "\ufeff5.0\u200b",
    "\u00a0>\u20095\u00a0",
    "5\u00a0000",
    "\x1f5\x7f",
    "held",
    " broke_down",
    "no_trip",
    "Held",
    "nan",
    "inf",
    "constructor",
    "4.2 '",
    "５",
    "\u2212" + "5",
)
ODD_UNITS = (None, "", "V", "Ohm", "m", "M", "GΩ ", "hectare", "toString", "kohm")


def made_up_numbers(seed: int, count: int) -> list[float]:
    """Return numbers of every size, many of them ties at some decimal digit."""
    source = random.Random(seed)
    ties = [
        source.randrange(1, 10**6) / 2.0 ** source.randrange(0, 12)
        for _ in range(count // 2)
    ]
    sizes = [
        source.uniform(-10.0, 10.0) * 10.0 ** source.uniform(-30.0, 30.0)
        for _ in range(count // 2)
    ]
    edges = [0.0, 9.9995, 9.9985, 99995.0, 12345.0, 1e-5, 9.9999e-6, 999.95, 1e29]
    return edges + ties + sizes
