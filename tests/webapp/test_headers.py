"""What a page may use of the device it is shown on."""

from collections.abc import Callable

from tests.webapp.desk import Desk

WIRE = {
    "/field/tablet": "serial=(self)",
    "/field/rounds/0d8f7a5e-0000-4000-8000-000000000000/": "serial=(self)",
    "/a/0d8f7a5e-0000-4000-8000-000000000000": "serial=(self)",
    "/account/sign-in": "serial=()",
    "/library/": "serial=()",
    "/static/style.css": "serial=()",
}


def test_camera_and_wire_are_for_the_pages_of_the_field(
    desk_at: Callable[[str], Desk],
) -> None:
    client = desk_at("opened").passer_by().client
    for path, wire in WIRE.items():
        allowed = client.get(path).headers["Permissions-Policy"].split(", ")
        assert wire in allowed, path
        assert wire.replace("serial", "camera") in allowed, path
        assert "geolocation=()" in allowed, path
