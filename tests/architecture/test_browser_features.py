"""What some browsers lack is asked for before it is used (docs/offline.md)."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
# The service worker itself runs over HTTPS alone, where all that it uses is there.
FOLDERS = ("webapp/static", "webapp/offline")

# How it is used, and how it is asked for in the same file.
FEATURES = {
    "service worker": (
        r"navigator\.serviceWorker\.",
        r"!navigator\.serviceWorker\b|if \(!registration\) return",
    ),
    "web locks": (
        r"navigator\.locks\.",
        r"!navigator\.locks\b|navigator\.locks \?",
    ),
    "wake lock": (r"navigator\.wakeLock\.", r'"wakeLock" in navigator'),
    "persistence": (
        r"navigator\.storage\.persist\(",
        r"!navigator\.storage\?\.persist",
    ),
    "camera": (r"navigator\.mediaDevices\b", r"!navigator\.mediaDevices"),
    "barcodes": (r"\bnew BarcodeDetector", r'"BarcodeDetector" in globalThis'),
    "sound": (r"\bnew AudioContext", r'"AudioContext" in globalThis'),
    "sealing": (r"crypto\.subtle\.", r"crypto\??\.subtle\)"),
    "random UUID": (r"crypto\.randomUUID\(", r"if \(crypto\.randomUUID\)"),
}
# Used only by way of `?.`: what is missing is undefined.
BY_QUESTION = (r"navigator\.vibrate\(", r"navigator\.storage\.(estimate|persisted)\(")
NEVER = {
    "look-behind (Safari before 16.4 does not read the file)": r"\(\?<[=!]",
    "background sync (Chromium alone)": r"\bSyncManager\b|\.sync\.register",
    "pictures off the page": r"\bOffscreenCanvas\b",
    "compression": r"\b(De)?[cC]ompressionStream\b",
    "files by handle (Chromium alone)": r"\bshow(Save|Open)FilePicker\b",
}


def scripts() -> Iterator[tuple[str, str]]:
    """Return each script of ours: its path, and its text without comments."""
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*.js")):
            name = path.relative_to(ROOT).as_posix()
            if "/vendor/" not in name:
                text = path.read_text("utf-8")
                yield name, re.sub(r"(?m)^\s*(//|\*|/\*).*$", "", text)


@pytest.mark.parametrize(("used", "asked"), FEATURES.values(), ids=FEATURES)
def test_it_is_asked_for_in_the_file_that_uses_it(used: str, asked: str) -> None:
    users = {name: text for name, text in scripts() if re.search(used, text)}
    assert users, "nothing uses it any more: take it off the list"
    assert [name for name, text in users.items() if not re.search(asked, text)] == []


@pytest.mark.parametrize("used", BY_QUESTION)
def test_it_is_used_only_where_it_is_there(used: str) -> None:
    assert [name for name, text in scripts() if re.search(used, text)] == []


def test_the_wire_is_reached_only_where_the_browser_has_one() -> None:
    texts = dict(scripts())
    door = texts["webapp/static/field/wire_choice.js"]
    assert '"serial" in navigator' in door and "hasWire() &&" in door
    users = [name for name, text in texts.items() if "navigator.serial." in text]
    assert users and all("/field/wire/" in name for name in users)
    into = [name for name, text in texts.items() if re.search(r"wire/\w+\.js", text)]
    assert into == ["webapp/static/field/wire_choice.js"]


@pytest.mark.parametrize("never", NEVER.values(), ids=NEVER)
def test_it_is_not_used(never: str) -> None:
    assert [name for name, text in scripts() if re.search(never, text)] == []
