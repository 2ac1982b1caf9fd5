"""What is done to a lineup's draft in the browser: each operation, by hand."""

from typing import Any

import pytest
from playwright.sync_api import Page

pytestmark = pytest.mark.browser

COUNTED_UP = {
    "Duty pump 1": "Duty pump 2",
    "52-3": "52-4",
    "52-9": "52-10",
    "07": "08",
    "Incomer A": "Incomer B",
    "Bus Z": "Bus Z 2",
    "Spare": "Spare 2",
    "7B": "8B",
    "99999999999999999999": "100000000000000000000",
}
TAGS: dict[str, tuple[list[str], str]] = {
    "a tag that ends in its cell": (["breaker 52-3", "3", "7"], "breaker 52-7"),
    "a tag in words": (["VT 3", "3", "7"], "VT 7"),
    "a number that only looks like the cell's": (
        ["relay 51-13", "3", "7"],
        "relay 51-14",
    ),
    "a tag of its own": (["spare", "3", "7"], "spare 2"),
    "one that somebody has": (["breaker 52-3", "3", "5"], "breaker 52-4"),
}
COUNT = """async (sent) => {
  const { countUp, tagFor } = await import("/static/setup/count_up.js");
  const [texts, tags] = sent;
  const taken = new Set(["breaker 52-5"]);
  const tag = ([label, from, to]) => tagFor(label, from, to, taken);
  return [texts.map(countUp), tags.map(tag)];
}"""


def test_names_numbers_and_tags_are_counted_up(rule_reader: Page) -> None:
    texts, tags = rule_reader.evaluate(
        COUNT, [list(COUNTED_UP), [case for case, _ in TAGS.values()]]
    )
    assert dict(zip(COUNTED_UP, texts, strict=True)) == COUNTED_UP
    assert dict(zip(TAGS, tags, strict=True)) == {n: s for n, (_, s) in TAGS.items()}


# Cells are written `number name bus(tie): tags`; each step is [operation, arguments],
# a cell or an apparatus being named by its number or its tag.
RUN = """async (cases) => {
  const all = {};
  for (const name of ["draft", "cells", "apparatus", "sections", "history"]) {
    Object.assign(all, await import(`/static/setup/${name}.js`));
  }
  const HOLDS = [{ kind: "breaker", label: "breaker 52-{n}" }];
  const start = () => {
    let draft = all.bare();
    for (const name of ["Incomer A", "Feeder 1", "Incomer B"]) {
      draft = all.addCell(draft, { kind: "breaker", name, holds: HOLDS });
    }
    return draft;
  };
  const cell = (draft, number) => draft.cells.find((one) => one.number === number).key;
  const held = (draft, tag) => all.every(draft).find((one) => one.label === tag).key;
  const steps = {
    add: (d, after) =>
      all.addCell(d, { kind: "vt", name: "VT", after: cell(d, after), holds: [] }),
    copy: (d, number, count) => all.copyCell(d, cell(d, number), count),
    move: (d, number, to) => all.moveCell(d, cell(d, number), to),
    remove: (d, number) => all.removeCell(d, cell(d, number)),
    renumber: (d, number, to) => all.renumber(d, cell(d, number), to),
    from_left: (d) => all.numberFromLeft(d),
    section: (d) => all.addSection(d),
    rename: (d, at, name) => all.renameSection(d, at, name),
    drop: (d, at) => all.removeSection(d, at),
    range: (d, name, from, to) => all.setRange(d, name, from, to),
    tie: (d, number, to) => all.withCell(d, cell(d, number), { tie_to: to }),
    put: (d, tag, field, value) => all.setPlate(d, held(d, tag), field, { value }),
    unread: (d, tag, field, text) => all.setPlate(d, held(d, tag), field, { text }),
    plate: (d, tag, others) =>
      all.copyPlate(d, held(d, tag), others.map((one) => held(d, one))),
  };
  const said = (d) => d.cells.map((one) => {
    const tie = one.tie_to ? `>${one.tie_to}` : "";
    const tags = one.apparatus.map((a) => {
      const plate = Object.entries({ ...a.plate, ...a.typed }).map((e) => e.join("="));
      return [a.label, ...plate].join(" ");
    });
    return `${one.number} ${one.name} ${one.bus}${tie}: ${tags.join(", ")}`;
  });
  return cases.map((case_) => {
    let draft = start();
    const before = JSON.stringify(draft);
    const first = draft;
    for (const [name, ...rest] of case_) draft = steps[name](draft, ...rest);
    if (JSON.stringify(first) !== before) throw new Error("changed in its place");
    const keys = [...draft.cells, ...all.every(draft)].map((one) => one.key);
    if (new Set(keys).size !== keys.length) throw new Error(`key twice: ${keys}`);
    return said(draft);
  });
}"""
A = "1 Incomer A bus: bus, breaker 52-1"
F = "2 Feeder 1 bus: breaker 52-2"
B = "3 Incomer B bus: breaker 52-3"
OPERATIONS: dict[str, tuple[list[list[Any]], list[str]]] = {
    "the bus stands in the first cell": ([], [A, F, B]),
    "a cell after another": ([["add", "1"]], [A, "4 VT bus: ", F, B]),
    "a cell copied twice": (
        [
            ["put", "breaker 52-2", "rated_a", 1200],
            ["put", "breaker 52-2", "serial", "V7"],
            ["copy", "2", 2],
        ],
        [
            A,
            "2 Feeder 1 bus: breaker 52-2 rated_a=1200 serial=V7",
            "4 Feeder 2 bus: breaker 52-4 rated_a=1200",
            "5 Feeder 3 bus: breaker 52-5 rated_a=1200",
            B,
        ],
    ),
    "the bus is not copied": (
        [["copy", "1", 1]],
        [A, "4 Incomer C bus: breaker 52-4", F, B],
    ),
    "a cell moved to the left end": ([["move", "3", 0]], [B, A, F]),
    "a cell moved beyond the end": ([["move", "1", 9]], [F, B, A]),
    "the bus goes on when its cell is removed": (
        [["remove", "1"]],
        ["2 Feeder 1 bus: bus, breaker 52-2", B],
    ),
    "a tag follows its cell's number": (
        [["renumber", "2", "12"]],
        [A, "12 Feeder 1 bus: breaker 52-12", B],
    ),
    "numbered from the left": (
        [["move", "3", 0], ["from_left"]],
        [
            "1 Incomer B bus: breaker 52-1",
            "2 Incomer A bus: bus, breaker 52-2",
            "3 Feeder 1 bus: breaker 52-3",
        ],
    ),
    "a section over the last cell brings its bus": (
        [["section"], ["range", "bus B", 2, 2]],
        [A, F, "3 Incomer B bus B: bus B, breaker 52-3"],
    ),
    "a section named anew": (
        [["rename", 0, "bus A"]],
        [
            "1 Incomer A bus A: bus A, breaker 52-1",
            "2 Feeder 1 bus A: breaker 52-2",
            "3 Incomer B bus A: breaker 52-3",
        ],
    ),
    "a section made shorter gives its cells to its neighbour": (
        [["section"], ["range", "bus B", 1, 2], ["range", "bus B", 2, 2]],
        [A, "2 Feeder 1 bus: breaker 52-2", "3 Incomer B bus B: bus B, breaker 52-3"],
    ),
    "a section removed gives back its cells and ends its tie": (
        [["section"], ["range", "bus B", 2, 2], ["tie", "2", "bus B"], ["drop", 1]],
        [A, F, "3 Incomer B bus: bus B, breaker 52-3"],
    ),
    "a cell moved among another section joins it": (
        [["section"], ["range", "bus B", 1, 2], ["move", "1", 2]],
        [
            "2 Feeder 1 bus B: bus B, breaker 52-2",
            "3 Incomer B bus B: breaker 52-3",
            "1 Incomer A bus B: bus, breaker 52-1",
        ],
    ),
    "a plate copied to its like, but for the serial number": (
        [
            ["put", "breaker 52-1", "serial", "V1"],
            ["put", "breaker 52-1", "type", "draw-out"],
            ["put", "breaker 52-2", "serial", "V2"],
            ["unread", "breaker 52-2", "type", "?"],
            ["put", "breaker 52-2", "built_year", 2020],
            ["plate", "breaker 52-1", ["breaker 52-2", "breaker 52-3"]],
        ],
        [
            "1 Incomer A bus: bus, breaker 52-1 serial=V1 type=draw-out",
            "2 Feeder 1 bus: breaker 52-2 serial=V2 built_year=2020 type=draw-out",
            "3 Incomer B bus: breaker 52-3 type=draw-out",
        ],
    ),
}


def test_each_operation_gives_the_draft_that_is_meant(rule_reader: Page) -> None:
    found = rule_reader.evaluate(RUN, [steps for steps, _ in OPERATIONS.values()])
    assert dict(zip(OPERATIONS, found, strict=True)) == {
        name: expected for name, (_, expected) in OPERATIONS.items()
    }


HISTORY = """async () => {
  const { beginHistory, follow, undo, redo } = await import("/static/setup/history.js");
  let h = beginHistory("");
  for (const text of ["S", "SG", "SG-7"]) h = follow(h, text, "the name", "name");
  h = follow(h, "SG-7 and a cell", "adding a cell");
  const seen = [];
  for (const step of [undo, undo, undo, redo, redo, redo, undo]) {
    h = step(h);
    seen.push(h.now);
  }
  h = follow(h, "another", "else");
  return [seen, h.future.length, h.past.length];
}"""


def test_what_is_typed_into_one_field_is_undone_as_one(rule_reader: Page) -> None:
    whole = "SG-7 and a cell"
    assert rule_reader.evaluate(HISTORY) == [
        ["SG-7", "", "", "SG-7", whole, whole, "SG-7"],
        0,
        2,
    ]
