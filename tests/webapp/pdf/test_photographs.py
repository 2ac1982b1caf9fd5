"""The photographs of a round as the package prints them."""

import copy
import hashlib
import io
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from PIL import Image

from models.files.folder_store import FolderStore
from tests.webapp.pdf.outside import page_texts
from tests.webapp.pdf.sample_document import sample_document
from webapp import package_photographs
from webapp.package_photographs import printed_photographs
from webapp.pdf import render_package

pytestmark = pytest.mark.needs("poppler")
SIZES = [(2048, 1536), (1536, 2048), (640, 480), (2048, 400), (1536, 2048)]


def put(store: FolderStore, size: tuple[int, int], tone: int) -> str:
    target = io.BytesIO()
    Image.new("RGB", size, (tone, 80, 80)).save(target, "JPEG")
    digest = hashlib.sha256(target.getvalue()).hexdigest()
    store.put(io.BytesIO(target.getvalue()), digest)
    return digest


@pytest.fixture
def store(tmp_path: Path) -> FolderStore:
    return FolderStore(tmp_path / "store")


@pytest.fixture
def document(store: FolderStore) -> dict[str, Any]:
    """Return a round with five photographs, one that is gone, and what is none."""
    found = copy.deepcopy(sample_document())
    gone, withdrawn = found["files"]
    shown = [
        {
            **gone,
            "name": f"IMG_{n}.jpg",
            "sha256": put(store, size, 40 * n),
            "note": f"pole {n} · taken 2026-02-01 20:30 +1300",
        }
        for n, size in enumerate(SIZES)
    ]
    shown[4]["note"] = f"original of the works; {shown[4]['note']}"
    original = {**shown[0], "original_of": shown[0]["id"]}
    paper = {**gone, "media_type": "application/pdf", "name": "plan.pdf"}
    found["files"] = [gone, withdrawn, original, paper, *shown]
    return found


def test_each_photograph_stands_with_what_it_shows(
    document: dict[str, Any], store: FolderStore, tmp_path: Path
) -> None:
    printed = printed_photographs(document, store)
    made = render_package(document, [], printed=printed)
    assert made == render_package(document, [], printed=printed)
    pages = [one for one in page_texts(made, tmp_path) if "Photographs" in one]
    text = " ".join(" ".join(pages).split())
    assert "1 · Cell 3 · breaker 52-3 · contact resistance" in text
    assert "could not be opened when the package was made" in text
    for n in range(5):
        assert f"{n + 2} · Cell 3" in text
        assert f"pole {n} · taken 2026-02-01 20:30 +1300" in text
        assert f"IMG_{n}.jpg, by R. Sample, on record" in text
    assert "7 ·" not in text  # neither the withdrawn one, the original nor the plan
    assert len(pages) == 1  # six on a page
    with pikepdf.open(io.BytesIO(made)) as opened:
        images = [one for page in opened.pages for one in page.get_images().values()]
    assert len(images) == 5
    assert max(max(int(one.Width), int(one.Height)) for one in images) == 1000


def test_what_is_not_printed_is_said(
    document: dict[str, Any],
    store: FolderStore,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(package_photographs, "MOST", 2)
    made = render_package(document, [], printed=printed_photographs(document, store))
    text = " ".join(" ".join(page_texts(made, tmp_path)).split())
    assert "4 more are listed there and not printed." in text
    bare = document | {"files": []}
    made = render_package(bare, [], printed=printed_photographs(bare, store))
    assert "Photographs" not in " ".join(page_texts(made, tmp_path))
