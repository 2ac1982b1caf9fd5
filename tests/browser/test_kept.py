"""What stays on the tablet: written to the disk, sealed, and nothing of it lost."""

import json
import re
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import delete, select

from models.schema import Note, Tablet, TabletShare
from models.services.tablets.decide import revoke_or_admit
from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET_UPRIGHT,
    check_page,
    hold_program,
    open_page,
    sign_in,
)
from tests.browser.test_field import open_card
from tests.scenario import IR, LEAD, PASSWORD, TECHNICIAN

pytestmark = pytest.mark.browser

# Each script has the modules of the tablet at hand; a person's key is made anew.
BEGIN = """async (given) => {
  const at = (name) => import(`/static/field/kept/${name}.js`);
  const { Keep } = await at("keep");
  const database = await at("database");
  const { keyOf, newKeyBytes, passwordKey, wrap, unwrap } = await at("vault");
  const key = await keyOf(newKeyBytes());
  const someone = (id) => ({ id, name: "Wren Tern", sign_in: "tern", key });
  const wren = someone(crypto.randomUUID());
  const rows = (person) => database.getAll("kept", person.id, "person");
"""
SEALED = """
  const keep = await Keep.open(wren, "round-1");
  keep.write("draft:card", { note: "rain on the roof" });
  keep.write("outbox:one", { order: 1, entry: { text: "8.41", at: "2026-11-30" } });
  const written = await keep.written();
  const bytes = (await rows(wren)).map(({ sealed }) => new Uint8Array(sealed.data));
  const raw = bytes.map((one) => new TextDecoder("latin1").decode(one)).join();
  const stranger = { ...wren, key: await keyOf(newKeyBytes()) };
  const again = await Keep.open(wren, "round-1");
  const other = await Keep.open(stranger, "round-1");
  const names = (await rows(wren)).map(({ name, at }) => [name, at.slice(0, 10)]);
  return {
    written, names: names.filter(([name]) => name.startsWith("outbox")),
    typed: ["rain", "8.41"].filter((text) => raw.includes(text)),
    again: [again.read("draft:card"), again.read("outbox:one").entry.text],
    other: [[...other.all("").keys()], other.unopened.length],
  };
}"""
SWAPPED = """
  const keep = await Keep.open(wren, "round-1");
  keep.write("outbox:one", { order: 1, entry: { text: "1" } });
  keep.write("outbox:two", { order: 2, entry: { text: "2" } });
  keep.write("outbox:three", { order: 3, entry: { text: "3" } });
  await keep.written();
  const [one, three, two] = await rows(wren);
  [one.sealed, two.sealed] = [two.sealed, one.sealed];
  await database.put("kept", one, two);
  const again = await Keep.open(wren, "round-1");
  const names = [...again.all("outbox:").keys()];
  return [names, again.unopened.sort(), (await rows(wren)).length];
}"""
OPENED = """
  const bytes = newKeyBytes();
  const { salt, iterations, key: typed } = await passwordKey("right words here");
  const wrapped = await wrap(typed, wren.id, bytes);
  const opens = async (words, id) => {
    const { key } = await passwordKey(words, salt, iterations);
    return String(await unwrap(key, id, wrapped)) === String(bytes);
  };
  return [iterations, await opens("right words here", wren.id),
    await opens("wrong words here", wren.id), await opens("right words here", "other")];
}"""
REFUSED = """
  const said = [];
  const { put } = IDBObjectStore.prototype;
  const full = () => { throw new DOMException("full", "QuotaExceededError"); };
  const keep = await Keep.open(wren, "round-1");
  keep.watch(() => said.push(keep.broken));
  const second = await Keep.open(wren, "round-1");
  IDBObjectStore.prototype.put = full;
  keep.write("outbox:one", { order: 1, entry: { text: "8.41" } });
  const refused = [await keep.written(), keep.read("outbox:one").entry.text];
  IDBObjectStore.prototype.put = put;
  keep.write("speaker", { id: "b" });
  const taken = await keep.written();
  const again = await Keep.open(wren, "round-1");
  return { refused, taken, said, again: again.read("outbox:one").entry.text,
    heard: second.read("outbox:one").entry.text };
}"""
TWO_PAGES = """
  const first = await Keep.open(wren, "round-1");
  const second = await Keep.open(wren, "round-1");
  const heard = [];
  second.listen("outbox:", (name, value) => heard.push([name, value && value.order]));
  first.write("outbox:one", { order: 1, entry: {} });
  second.write("outbox:two", { order: 2, entry: {} });
  await Promise.all([first.written(), second.written()]);
  first.drop("outbox:one");
  await first.written();
  await new Promise((done) => setTimeout(done, 50));
  const third = await Keep.open(wren, "round-1");
  return [heard, [first, second, third].map((one) => [...one.all("outbox:").keys()])];
}"""
MOVED = """
  const { moveFromBefore } = await at("moved");
  const { setting, openSettings } = await at("settings");
  const { deviceName } = await at("tablet");
  const mine = (name) => `witnessmark:${wren.id}:round-1:${name}`;
  for (const [name, value] of Object.entries(given)) {
    localStorage.setItem(mine(name), JSON.stringify(value));
  }
  localStorage.setItem("witnessmark-clock", "-90000");
  localStorage.setItem("witnessmark-device", "tablet 7f3a");
  await openSettings();
  const { put } = IDBObjectStore.prototype;
  const own = (key) => key.includes(wren.id);
  const left = () => Object.keys(localStorage).filter(own).length;
  const full = () => { throw new DOMException("full", "QuotaExceededError"); };
  IDBObjectStore.prototype.put = full;
  await moveFromBefore();
  const refused = left();
  IDBObjectStore.prototype.put = put;
  await moveFromBefore();
  const keep = await Keep.open(wren, "round-1");
  await keep.written();
  return { refused, left: left(), clock: setting("clock"), device: deviceName(),
    names: [...keep.all("").keys()].sort(), draft: keep.read("draft:a"),
    sealed: (await rows(wren)).every(({ sealed }) => sealed.data) };
}"""
CLEARED = """
  const { noticeCleared, clearedWords } = await at("cleared");
  const { nameRound } = await at("held_count");
  nameRound("round-1", "Marram · MV-1");
  const keep = await Keep.open(wren, "round-1");
  keep.write("outbox:one", { order: 1, entry: {} });
  keep.write("outbox:two", { order: 2, entry: {} });
  await keep.written();
  const there = await noticeCleared();
  const keyOfRow = (one) => [one.person, one.round, one.name];
  await database.remove("kept", ...(await rows(wren)).map(keyOfRow));
  const gone = await noticeCleared();
  return [there, gone.map(clearedWords), await noticeCleared()];
}"""
HELD = """
  const { heldRounds, readRound, keepRound, giveBack } = await at("rounds");
  const made = (id) => ({ round: { id, title: "Round", state: "open" },
    site: { name: "Marram" }, lineup: { name: "MV-1" } });
  for (let n = 0; n < 11; n += 1) {
    await keepRound(wren, made(`r${n}`), { taken: n < 2 });
  }
  await keepRound(wren, made("r0"));
  await giveBack(wren, "r1");
  const held = await heldRounds(wren);
  return [held.map(({ round, taken_at }) => [round, Boolean(taken_at)]),
    (await readRound(wren, "r10")).document.round.id, await readRound(wren, "r1")];
}"""


def asked(page: Page, script: str, given: Any = None) -> Any:
    """Run a script on the tablet's modules."""
    return page.evaluate(BEGIN + script, given)


def test_what_is_typed_is_sealed_on_the_disk(rule_reader: Page) -> None:
    """Labels can be read without a key; what was typed cannot."""
    assert asked(rule_reader, SEALED) == {
        "written": True,
        "names": [["outbox:one", "2026-11-30"]],
        "typed": [],
        "again": [{"note": "rain on the roof"}, "8.41"],
        "other": [[], 2],
    }


def test_two_sealed_entries_that_were_swapped_are_refused_and_stay(
    rule_reader: Page,
) -> None:
    names, unopened, rows = asked(rule_reader, SWAPPED)
    assert names == ["three"]
    assert unopened == ["outbox:one", "outbox:two"]
    assert rows == 3


def test_only_the_right_password_opens_a_key(rule_reader: Page) -> None:
    """600,000 rounds: OWASP's figure for PBKDF2 with HMAC-SHA-256."""
    assert asked(rule_reader, OPENED) == [600_000, True, False, False]


def test_a_full_disk_loses_nothing_and_is_said(rule_reader: Page) -> None:
    """Another page of the tablet has the entry too, and tries its own disk."""
    assert asked(rule_reader, REFUSED) == {
        "refused": [False, "8.41"],
        "taken": True,
        "said": [True, False],
        "again": "8.41",
        "heard": "8.41",
    }


def test_pages_of_one_tablet_hear_each_other(rule_reader: Page) -> None:
    heard, held = asked(rule_reader, TWO_PAGES)
    assert heard == [["one", 1], ["one", None]]
    assert held == [["two"]] * 3


def test_what_earlier_versions_kept_is_moved_in(rule_reader: Page) -> None:
    """It leaves local storage only once the disk has it."""
    before = {
        "drafts": {"a": {"note": "an old note"}},
        "draft:b": {"note": "a newer one"},
        "outbox": [{"key": "k1", "at": "2026-11-29"}, {"key": "k2"}],
        "outbox:k3": {"order": 5, "entry": {"key": "k3"}},
        "returned:k4": {"key": "k4", "messages": []},
        "speaker": {"id": "b"},
    }
    found = asked(rule_reader, MOVED, before)
    assert found.pop("names") == [
        "draft:a",
        "draft:b",
        *(f"outbox:k{number}" for number in (1, 2, 3)),
        "returned:k4",
        "speaker",
    ]
    assert found == {
        "refused": len(before),
        "left": 0,
        "clock": -90_000,
        "device": "tablet 7f3a",
        "draft": {"note": "an old note"},
        "sealed": True,
    }


def test_storage_that_the_browser_cleared_is_noticed_once(rule_reader: Page) -> None:
    there, gone, again = asked(rule_reader, CLEARED)
    assert there == again == []
    assert [words.split(" had")[0] for words in gone] == [
        "This browser has cleared its storage: 2 entries of Wren Tern (Marram · MV-1)"
    ]


def test_rounds_only_looked_at_make_room(rule_reader: Page) -> None:
    """Those taken along stay until they are given back."""
    held, read, given_back = asked(rule_reader, HELD)
    looked_at = [["r10", False], *([f"r{number}", False] for number in range(3, 10))]
    assert sorted(held) == sorted([["r0", True], *looked_at])
    assert read == "r10"
    assert given_back is None


def leave(page: Page) -> None:
    """Sign out by the menu."""
    page.locator(".menu summary").click()
    page.get_by_role("button", name="Sign out").click()


def unlock(page: Page, password: str) -> None:
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Open", exact=True).click()


def carried_off(page: Page) -> list[int]:
    """Carry off what is unsent; return how many entries of each round there are."""
    with page.expect_download() as carried:
        page.get_by_role("button", name="Carry off as a file").click()
    file = json.loads(Path(carried.value.path()).read_text("utf-8"))
    assert all(one["sealed"] for held in file["rounds"] for one in held["entries"])
    return [len(held["entries"]) for held in file["rounds"]]


def authors(served: Served, card_id: UUID) -> list[UUID]:
    """Return who wrote the notes that the server has."""
    with served.session() as session:
        return list(session.scalars(select(Note.by_id).where(Note.card_id == card_id)))


def revoke(served: Served) -> None:
    with served.session() as session:
        revoke_or_admit(
            session,
            person_id=LEAD.id,
            tablet_id=session.scalars(select(Tablet.id)).one(),
            act="revoke",
            reason="It was left in a taxi.",
            act_id=uuid4(),
            now=datetime.now(UTC),
        )
        session.commit()


def test_whoever_uses_the_tablet_next_what_is_unsent_stays_its_authors(
    browser: Browser, served: Served
) -> None:
    """Signed out without signal, another person, a wrong password, and back."""
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    hold_program(page)
    address = page.url
    context.set_offline(True)
    page.get_by_label("Note for the record").fill("rain on the roof")
    page.get_by_role("button", name="Add note").click()
    expect(page.locator("#signal")).to_contain_text("1 entry kept on this tablet")
    leave(page)
    expect(page.locator("main")).to_contain_text(f"{TECHNICIAN.name} · 1 entry")
    expect(page.locator("main")).to_contain_text("gave no password here")
    assert carried_off(page) == [1]  # sealed as it is: no password is needed
    context.set_offline(False)
    page.wait_for_url(re.compile("/account/sign-in"))
    expect(page.locator("#waits-here")).to_contain_text(f"{TECHNICIAN.name} · 1 entry")
    sign_in(page, LEAD)
    page.goto(address)
    expect(page.locator("#signal")).to_contain_text("1 of another person")
    leave(page)
    page.wait_for_url(re.compile("/account/sign-in"))
    assert authors(served, card_id) == []
    context.route("**/entries", lambda route: route.abort())
    sign_in(page, TECHNICIAN)
    page.goto(address)
    expect(page.locator("#signal")).to_contain_text("1 entry kept on this tablet")
    context.set_offline(True)
    leave(page)
    unlock(page, "not the password")
    expect(page.get_by_role("alert")).to_contain_text("not the password that")
    page.get_by_text("The password is lost").click()
    check_page(page)
    unlock(page, PASSWORD)
    held = page.get_by_role("heading", name="On this tablet", exact=True)
    expect(held).to_be_visible()
    page.goto(address)
    expect(page.get_by_text("rain on the roof")).to_be_visible()
    context.unroute("**/entries")
    context.set_offline(False)
    expect(page.locator("#signal")).to_contain_text("Everything")
    assert authors(served, card_id) == [TECHNICIAN.id]
    revoke(served)
    page.reload()
    expect(page.get_by_role("alert")).to_contain_text("left in a taxi")
    context.set_offline(True)
    page.reload()
    expect(page.get_by_role("alert")).to_contain_text("left in a taxi")
    expect(page.get_by_label("Password")).to_have_count(0)
    context.close()


FORGET = """() => import("/static/field/kept/worker.js")
  .then(({ askWorker }) => askWorker({ type: "open-key:forget" }))"""


def test_past_a_lost_key_one_begins_anew_and_what_was_sealed_stays(
    browser: Browser, served: Served
) -> None:
    """The server lost its share, as after a restored copy, and no password is here."""
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    hold_program(page)
    address = page.url
    context.set_offline(True)
    page.get_by_label("Note for the record").fill("rain on the roof")
    page.get_by_role("button", name="Add note").click()
    expect(page.locator("#signal")).to_contain_text("1 entry kept on this tablet")
    page.evaluate(FORGET)
    page.goto("about:blank")
    with served.session() as session:
        session.execute(delete(TabletShare))
        session.commit()
    context.set_offline(False)
    page.goto(address)
    main = page.locator("main")
    expect(main).to_contain_text(f"Only {TECHNICIAN.name}'s password opens")
    expect(main).to_contain_text("It costs this")
    check_page(page)
    page.once("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Begin with a new key").click()
    expect(page.get_by_text("items kept here cannot be opened")).to_be_visible()
    page.get_by_label("Note for the record").fill("the roof is dry")
    page.get_by_role("button", name="Add note").click()
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    assert authors(served, card_id) == [TECHNICIAN.id]
    page.goto("/field/tablet")
    assert carried_off(page) == [1]
    context.close()
