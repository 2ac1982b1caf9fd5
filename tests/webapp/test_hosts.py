"""Under which names the program is reached, and where its redirects lead."""

import pytest

from tests.conftest import Stages
from tests.scenario import SECRET
from webapp import create_app
from webapp.config import Config, SettingError, load_config
from webapp.headers import within

STRANGER = {"Host": "stranger.example"}
REDIRECTS = {
    "without its last slash": ("/owner", "/owner/"),
    "the front door": ("/", "/account/sign-in"),
    "not signed in": ("/field/", "/account/sign-in?next=/field/?"),
}


@pytest.mark.parametrize(("path", "wanted"), REDIRECTS.values(), ids=REDIRECTS)
def test_no_redirect_follows_a_strangers_host(
    sqlite_stages: Stages, path: str, wanted: str
) -> None:
    config = Config(database=sqlite_stages.url("place"), secret=SECRET, testing=True)
    client = create_app(config).test_client()
    answer = client.get(path, headers=STRANGER)
    assert answer.headers["Location"] == wanted


LOCATIONS = {
    "a path": ("/owner/?a=b#c", "/owner/?a=b#c"),
    "a host": ("http://stranger.example/owner/?a=b", "/owner/?a=b"),
    "a host without a scheme": ("//stranger.example/owner", "/owner"),
    "slashes before the path": ("http://x///stranger.example", "/stranger.example"),
    "a host alone": ("https://stranger.example", "/"),
}


@pytest.mark.parametrize(("location", "wanted"), LOCATIONS.values(), ids=LOCATIONS)
def test_within(location: str, wanted: str) -> None:
    assert within(location) == wanted


ASKED = {
    "its own name": ("record.site.example", 302),
    "with a port": ("record.site.example:8443", 302),
    "another of its names": ("localhost:8700", 302),
    "a stranger's": ("stranger.example", 400),
    "one that ends as its own": ("not-record.site.example", 400),
}


@pytest.mark.parametrize(("host", "status"), ASKED.values(), ids=ASKED)
def test_names_that_are_set_are_the_only_ones(
    sqlite_stages: Stages, host: str, status: int
) -> None:
    config = Config(
        database=sqlite_stages.url("place"),
        secret=SECRET,
        hosts=("record.site.example", "localhost"),
        testing=True,
    )
    answer = create_app(config).test_client().get("/", headers={"Host": host})
    assert answer.status_code == status
    if status == 400:
        assert "not reached under that name" in answer.get_data(as_text=True)


SETTINGS = {
    "none": ("", ()),
    "one": ("record.site.example", ("record.site.example",)),
    "several": (" a.example, 10.0.0.7 ,[::1],", ("a.example", "10.0.0.7", "[::1]")),
}


@pytest.mark.parametrize(("text", "hosts"), SETTINGS.values(), ids=SETTINGS)
def test_the_setting(
    monkeypatch: pytest.MonkeyPatch, text: str, hosts: tuple[str, ...]
) -> None:
    monkeypatch.setenv("WITNESSMARK_HOSTS", text)
    assert load_config().hosts == hosts


@pytest.mark.parametrize("text", ["https://a.example", "a.example:8443", "a b", "*"])
def test_a_setting_that_is_no_name_is_refused(
    monkeypatch: pytest.MonkeyPatch, text: str
) -> None:
    monkeypatch.setenv("WITNESSMARK_HOSTS", text)
    with pytest.raises(SettingError, match="without scheme and port"):
        load_config()
