"""Settings: read from the environment, and loud when they are wrong."""

import os
import re
import secrets
from dataclasses import dataclass, field
from ipaddress import ip_address
from pathlib import Path

from models.errors import WitnessmarkError

HOST = re.compile(r"[a-z0-9.-]+|\[[0-9a-f:]+\]", re.IGNORECASE)
FILE_MB, FILES_EACH = 25, 40


class SettingError(WitnessmarkError):
    """A setting is missing or cannot be used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Config:
    """What an installation is set to.

    *secret* signs sessions and opens the installation's certificate authority:
    who has it and the database can issue certificates, though not open any
    person's key. *https* says that browsers reach the program over TLS. *hosts* are
    the names under which they reach it; without one, any name is answered. *proxy*
    is the address that the proxy before the program connects from: what that says of
    who asks is believed. *files* is
    the folder of what people attach, or s3://bucket/prefix; by default `files` in the
    instance folder.
    """

    database: str
    secret: str
    https: bool = False
    hosts: tuple[str, ...] = ()
    proxy: str = ""
    files: str = field(default_factory=lambda: str(instance_dir() / "files"))
    file_mb: int = FILE_MB  # the most that one file may have
    files_each: int = FILES_EACH  # the most that are attached to one thing
    single_files: bool = False  # the field's files one by one, as a developer sees them
    testing: bool = False


def instance_dir() -> Path:
    """Return the folder that holds the database and the secret."""
    return Path(os.environ.get("WITNESSMARK_INSTANCE", "instance")).absolute()


def load_config() -> Config:
    """Read the settings.

    `WITNESSMARK_DATABASE` (an SQLAlchemy address, by default a SQLite file in the
    instance folder), `WITNESSMARK_SECRET` (by default a file made on first use),
    `WITNESSMARK_HTTPS` (yes or no), `WITNESSMARK_HOSTS` (names, with commas between),
    `WITNESSMARK_PROXY` (an IP address),
    `WITNESSMARK_FILES` (a folder, or s3://bucket/prefix), `WITNESSMARK_FILE_MB` and
    `WITNESSMARK_FILES_EACH` (whole numbers), `WITNESSMARK_SINGLE_FILES` (yes or no).
    """
    folder = instance_dir()
    default = f"sqlite:///{(folder / 'witnessmark.sqlite').as_posix()}"
    return Config(
        database=os.environ.get("WITNESSMARK_DATABASE", default),
        secret=os.environ.get("WITNESSMARK_SECRET") or secret_of(folder),
        https=_yes_or_no("WITNESSMARK_HTTPS"),
        hosts=_names("WITNESSMARK_HOSTS"),
        proxy=_address("WITNESSMARK_PROXY"),
        files=os.environ.get("WITNESSMARK_FILES") or str(folder / "files"),
        file_mb=_whole("WITNESSMARK_FILE_MB", FILE_MB, 500),
        files_each=_whole("WITNESSMARK_FILES_EACH", FILES_EACH, 1000),
        single_files=_yes_or_no("WITNESSMARK_SINGLE_FILES"),
    )


def secret_of(folder: Path) -> str:
    """Return the installation's secret, made and kept for its owner only."""
    path = folder / "secret"
    if not path.exists():
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="ascii") as file:
            file.write(secrets.token_urlsafe(48))
    return path.read_text("ascii").strip()


def _yes_or_no(name: str) -> bool:
    value = os.environ.get(name, "no").lower()
    if value not in ("yes", "no"):
        raise SettingError(f"{name} is '{value}': write yes or no.")
    return value == "yes"


def _address(name: str) -> str:
    value = os.environ.get(name, "").strip()
    try:
        return str(ip_address(value)) if value else ""
    except ValueError as error:
        raise SettingError(
            f"{name} is '{value}': write the IP address from which the proxy connects, "
            "such as 127.0.0.1."
        ) from error


def _whole(name: str, usual: int, most: int) -> int:
    value = os.environ.get(name, str(usual))
    if not value.isascii() or not value.isdigit() or not 1 <= int(value) <= most:
        raise SettingError(
            f"{name} is '{value}': write a whole number from 1 to {most}."
        )
    return int(value)


def _names(variable: str) -> tuple[str, ...]:
    value = os.environ.get(variable, "")
    names = tuple(name.strip() for name in value.split(",") if name.strip())
    for name in names:
        if HOST.fullmatch(name) is None:
            raise SettingError(
                f"{variable} has '{name}': write names such as record.site.example, "
                "without scheme and port, with commas between."
            )
    return names
