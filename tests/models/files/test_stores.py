"""Both stores keep one contract: a folder, and a bucket of an S3-compatible server."""

import io
import json
import os
import subprocess
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pytest

from models.errors import StoreError
from models.files.folder_store import FolderStore
from models.files.s3_store import BucketStore
from models.files.store import FileStore
from tests.outside.oracles import interpreter

CONTENT = b"certificate\n" * 200_000  # 2.4 MB: more than one piece
DIGEST = sha256(CONTENT).hexdigest()
OTHER = sha256(b"other").hexdigest()
SERVER = Path(__file__).parents[2] / "outside" / "oracle_s3.py"


@pytest.fixture(scope="module")
def bucket() -> Iterator[str]:
    """The address of a bucket on a local server, its keys in the environment."""
    clean = {k: v for k, v in os.environ.items() if k != "PYTHONPATH"}
    with (
        subprocess.Popen(
            [str(interpreter()), str(SERVER)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            env=clean,
        ) as server,
        pytest.MonkeyPatch.context() as patch,
    ):
        assert server.stdout is not None
        said = json.loads(server.stdout.readline())
        patch.setenv("AWS_ENDPOINT", said["address"])
        patch.setenv("AWS_ALLOW_HTTP", "true")
        patch.setenv("AWS_REGION", "us-east-1")
        patch.setenv("AWS_ACCESS_KEY_ID", "made-up")
        patch.setenv("AWS_SECRET_ACCESS_KEY", "made-up")
        yield f"s3://{said['bucket']}"
        assert server.stdin is not None
        server.stdin.close()


@pytest.fixture(params=["folder", "bucket"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> FileStore:
    """An empty store of each kind."""
    if request.param == "folder":
        return FolderStore(tmp_path / "files")
    return BucketStore(f"{request.getfixturevalue('bucket')}/{tmp_path.name}")


def put(store: FileStore, content: bytes) -> str:
    digest = sha256(content).hexdigest()
    store.put(io.BytesIO(content), digest)
    return digest


def test_what_is_kept_comes_back_and_is_kept_once(store: FileStore) -> None:
    assert list(store.digests()) == []
    for _ in range(2):
        assert put(store, CONTENT) == DIGEST
    put(store, b"other")
    with store.open(DIGEST) as file:
        assert file.read(5) == b"certi"
        assert b"certi" + file.read() == CONTENT
    assert sorted(store.digests()) == sorted([DIGEST, OTHER])
    assert store.check(DIGEST) == ""


def test_what_is_not_there_is_said(store: FileStore) -> None:
    assert store.check(DIGEST) == "missing"
    with pytest.raises(StoreError, match=f"{DIGEST} is not in the store"):
        store.open(DIGEST)


def test_another_content_than_its_name_says_is_refused(store: FileStore) -> None:
    with pytest.raises(StoreError, match="not what"):
        store.put(io.BytesIO(b"altered on its way"), DIGEST)
    assert list(store.digests()) == []


def test_a_bucket_that_is_not_there_is_said(bucket: str) -> None:
    store = BucketStore("s3://no-such-bucket")
    with pytest.raises(StoreError, match="does not answer"):
        store.put(io.BytesIO(b"x"), sha256(b"x").hexdigest())


@pytest.mark.parametrize("address", ["s3://", "s3:bucket", "s3://bucket?x=1"])
def test_an_address_that_is_none_is_refused_at_once(address: str) -> None:
    with pytest.raises(StoreError, match="no address such as"):
        BucketStore(address)


class TornError(OSError):
    """The connection broke."""


class Torn(io.BytesIO):
    """A source that breaks off in the middle."""

    def read(self, size: int | None = -1) -> bytes:
        if self.tell():
            raise TornError(5, "broken off")
        return super().read(size)


def test_a_folder_never_shows_half_a_file(tmp_path: Path) -> None:
    store = FolderStore(tmp_path)
    with pytest.raises(StoreError, match="broken off"):
        store.put(Torn(CONTENT), DIGEST)
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_a_file_of_the_folder_is_its_owner_s_to_read(tmp_path: Path) -> None:
    store = FolderStore(tmp_path)
    put(store, CONTENT)
    place = tmp_path / DIGEST[:2] / DIGEST
    assert place.stat().st_mode & 0o777 == 0o400
    assert place.parent.stat().st_mode & 0o077 == 0
    place.chmod(0o600)
    place.write_bytes(CONTENT[:-1] + b"!")
    assert store.check(DIGEST) == "changed"


@pytest.mark.parametrize("name", ["..", "../x", DIGEST.upper(), DIGEST[:-1]])
def test_no_name_leads_out_of_the_folder(tmp_path: Path, name: str) -> None:
    with pytest.raises(StoreError, match="no SHA-256"):
        FolderStore(tmp_path).open(name)
