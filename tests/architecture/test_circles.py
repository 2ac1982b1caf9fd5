"""No module imports itself by way of others."""

import grimp
import pytest


def circles(imports: dict[str, set[str]]) -> list[list[str]]:
    """Return the groups of modules that reach each other (Tarjan 1972)."""
    number: dict[str, int] = {}
    lowest: dict[str, int] = {}
    waiting: list[str] = []
    found = []

    def visit(name: str) -> None:
        number[name] = lowest[name] = len(number)
        waiting.append(name)
        for other in imports[name]:
            if other not in number:
                visit(other)
                lowest[name] = min(lowest[name], lowest[other])
            elif other in waiting:
                lowest[name] = min(lowest[name], number[other])
        if lowest[name] == number[name]:
            group = waiting[waiting.index(name) :]
            del waiting[waiting.index(name) :]
            if len(group) > 1:
                found.append(sorted(group))

    for name in sorted(imports):
        if name not in number:
            visit(name)
    return found


@pytest.mark.parametrize(
    ("imports", "expected"),
    [
        ({"a": {"b"}, "b": {"c"}, "c": set()}, []),
        ({"a": {"b"}, "b": {"c"}, "c": {"b"}}, [["b", "c"]]),
    ],
    ids=["a line", "a circle at its end"],
)
def test_circles_are_found(
    imports: dict[str, set[str]], expected: list[list[str]]
) -> None:
    assert circles(imports) == expected


def test_no_import_circles() -> None:
    graph = grimp.build_graph("models", "webapp", "seed_demo", cache_dir=None)
    imports = {
        name: set(graph.find_modules_directly_imported_by(name))
        for name in graph.modules
    }
    assert circles(imports) == []
