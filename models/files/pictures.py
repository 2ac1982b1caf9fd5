"""Prove that a picture is one by writing it anew, without what the camera noted."""

import subprocess
import sys
from pathlib import Path

from models.files.kinds import refused

PATIENCE_S = 60.0
MOST_PIXELS = 120_000_000
CHILD = Path(__file__).with_name("picture_child.py")


def write_picture(source: Path, target: Path) -> str:
    """Write the pixels of *source* to *target*; return `jpeg` or `png`.

    The work is done by a child with little memory and time (`picture_child`). Raises
    InputError for what is no picture, or too large a one.
    """
    told = [str(CHILD), str(source), str(target), str(MOST_PIXELS)]
    try:
        done = subprocess.run(  # noqa: S603 (our own program)
            [sys.executable, "-I", *told],
            check=False,
            capture_output=True,
            text=True,
            timeout=PATIENCE_S,
        )
    except subprocess.TimeoutExpired as error:
        raise refused("The picture takes too long to open; make it smaller.") from error
    if done.returncode == 0:
        return done.stdout
    if "too large" in done.stderr or done.returncode < 0:
        raise refused(
            f"The picture is too large to open (at most {MOST_PIXELS // 1_000_000} "
            "million pixels); make it smaller."
        )
    raise refused(
        "The file begins as a picture and cannot be opened as one: it was cut or is "
        "something else. Take it from the camera again."
    )
