"""The procedure that DEVELOPERS.md adds is the one that was added."""

import re
from pathlib import Path

from models.procedures.declaration import parse_declaration
from models.procedures.registry import declarations

PAGE = Path(__file__).resolve().parents[2] / "DEVELOPERS.md"


def test_the_file_on_the_page_is_the_file() -> None:
    printed = re.findall(r"```toml\n(name = .*?)```", PAGE.read_text("utf-8"), re.S)
    (text,) = printed
    declared = parse_declaration("fuse_resistance.toml", text)
    assert declared.data == declarations()["fuse_resistance"].data
