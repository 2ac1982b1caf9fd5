"""Programs from outside Python that the tests drive, and how to come by them."""

import os
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tests import postgres

BROWSERS = ("chromium", "chromium-browser")
FIREFOXES = ("firefox-esr", "firefox")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """What is needed: *name* is what `pytest --without` calls it."""

    name: str
    packages: tuple[str, ...]  # of Debian
    present: Callable[[], bool]
    what: str  # does not run without it


def _all(*programs: str) -> Callable[[], bool]:
    return lambda: all(shutil.which(program) for program in programs)


TOOLS = (
    Tool(
        name="chromium",
        packages=("chromium", "fonts-dejavu-core"),
        present=lambda: any(shutil.which(browser) for browser in BROWSERS),
        what="the browser tests",
    ),
    Tool(
        name="firefox",
        packages=("firefox-esr",),
        present=lambda: any(shutil.which(browser) for browser in FIREFOXES),
        what="a day without signal in another browser than Chromium",
    ),
    Tool(
        name="postgres",
        packages=("postgresql",),
        present=postgres.available,
        what="everything on PostgreSQL",
    ),
    Tool(
        name="poppler",
        packages=("poppler-utils",),
        present=_all("pdfsig", "pdftotext", "pdftoppm"),
        what="the check of PDFs by another reader",
    ),
    Tool(
        name="nss",
        packages=("libnss3-tools",),
        present=_all("certutil"),
        what="the check of signatures by another reader",
    ),
)


def missing() -> list[Tool]:
    """Return the tools that are not there."""
    return [tool for tool in TOOLS if not tool.present()]


def install(tools: list[Tool]) -> None:
    """Install *tools* where that is possible: on Debian and its kin, as root."""
    packages = [package for tool in tools for package in tool.packages]
    if not packages or not _can_install():
        return
    print(f"Installing {' '.join(packages)} ...", flush=True)
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "update", "-qq"],
        ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages],
    ):
        done = subprocess.run(command, check=False, env=env, stdout=subprocess.DEVNULL)
        if done.returncode:
            print(f"{' '.join(command)} failed ({done.returncode}).", flush=True)


def _can_install() -> bool:
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return (
        root and Path("/etc/debian_version").exists() and bool(shutil.which("apt-get"))
    )
