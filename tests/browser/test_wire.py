"""An instrument on a wire: one reading on one key, and nothing half where it fails.

The instrument is simulated in the page, with a parser of its own behind real streams
(`scpi_instrument.js`). What answers look like: IEEE 488.2-1992 and SCPI-99.
"""

from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from models.schema import Note, Reading
from tests.browser.conftest import Served
from tests.browser.crew import TABLET_UPRIGHT, check_page, check_themes, open_page
from tests.browser.test_field import open_card, ready
from tests.scenario import IR

pytestmark = pytest.mark.browser
INSTRUMENT = Path(__file__).parent / "scpi_instrument.js"
LEAST_KEY = 60
WAIT_S = 2  # for an answer; the simulated instrument is late after 3 s

# the answer, the unit that the page says, the field's -> text and unit, or why not
ANSWERS: dict[str, tuple[str, str, str, tuple[str, str] | str]] = {
    "NR1": ("4812", "MOhm", "MOhm", ("4812", "MOhm")),
    "NR2": ("+4.810", "GOhm", "GOhm", ("4.810", "GOhm")),
    "NR3, digits stay": ("+4.810000E+09", "Ohm", "GOhm", ("4.810000", "GOhm")),
    "NR3, to the smaller unit": ("+4.81E+09", "Ohm", "MOhm", ("4810", "MOhm")),
    "NR3, small e": ("4.81e-3", "Ohm", "uOhm", ("4810", "uOhm")),
    "very small": ("2.1E-04", "Pa", "Pa", ("0.00021", "Pa")),
    "smaller still": ("2.1E-07", "Pa", "Pa", ("2.1e-7", "Pa")),
    "a minus": ("-1.5E-03", "Ohm", "mOhm", ("-1.5", "mOhm")),
    "nothing": ("+0.00000E+00", "Ohm", "GOhm", ("0.00000", "GOhm")),
    "no figure before the point": (".5", "s", "ms", ("500", "ms")),
    "suffix": ("4.81 GOHM", "", "GOhm", ("4.81", "GOhm")),
    "MOHM is a megohm": ("12.5MOHM", "", "GOhm", ("0.0125", "GOhm")),
    "small mOhm, as said": ("12.5 mOhm", "mOhm", "uOhm", ("12500", "uOhm")),
    "pressure in its own unit": ("3.0E-04 MBAR", "", "Pa", ("0.030", "Pa")),
    "no power of ten between": ("0.002 TORR", "", "Pa", ("0.002", "Torr")),
    "small mOhm, not said": ("12.5 mOhm", "", "uOhm", "may be mΩ or MΩ"),
    "no unit": ("4.81E9", "", "GOhm", "has no unit"),
    "another than was said": ("4.81 KOHM", "Ohm", "GOhm", "the page of the wire says"),
    "another quantity": ("230 V", "", "GOhm", "answered in V; this point is read in"),
    "unknown unit": ("4.8 XYZ", "", "GOhm", "not known here"),
    "infinity": ("+9.9E37", "Ohm", "GOhm", "over range (9.9E37)"),
    "infinity, zeros": ("9.90000000E+37", "Ohm", "GOhm", "over range (9.9E37)"),
    "minus infinity": ("-9.9E37", "Ohm", "GOhm", "under range (-9.9E37)"),
    "not a number": ("9.91E37", "Ohm", "GOhm", "no value to give (9.91E37"),
    "beyond all": ("1E38", "Ohm", "GOhm", "beyond what any instrument"),
    "several": ("4.8E9,4.9E9", "Ohm", "GOhm", "Several values came"),
    "a word": ("OVLD", "Ohm", "GOhm", "is no number"),
    "comma for a point": ("4,8", "Ohm", "GOhm", "Several values came"),
    "blank": ("", "Ohm", "GOhm", "is no number"),
}
QUERIES: dict[str, bool] = {
    "READ?": True,
    "FETCh?": True,
    "*IDN?": True,
    "MEASure:RESistance? 10,0.001": True,
    ":MEAS:VOLT:DC? (@101)": True,
    "": False,
    "READ": False,
    "*RST": False,
    "*RST;READ?": False,
    "READ?;*RST": False,
    "READ?\nOUTP ON": False,
    "OUTP ON": False,
    "A" * 90 + "?": False,
}
ERRORS: dict[str, str] = {
    '0,"No error"': "",
    '+0,"No error"': "",
    '-113,"Undefined header"': "-113 Undefined header",
    '-100,"say ""x"""': '-100 say "x"',
    "-350": "-350",
}
READ_ALL = """async ([answers, queries, errors]) => {
    const scpi = await import("/static/field/wire/scpi.js");
    const units = await import("/static/field/wire/units.js");
    const all = ["uOhm", "mOhm", "kOhm", "MOhm", "GOhm", "TOhm", "s", "ms",
      "Pa", "mbar", "Torr"];
    const read = ([answer, stated, wanted]) => {
        try {
            const {text, suffix} = scpi.readAnswer(answer);
            const unit = units.unitOfAnswer(suffix, stated);
            const found = units.forField({text, unit, wanted, units: all});
            return [found.text, found.unit];
        } catch (error) {
            if (error.name !== "WireError") throw error;
            return error.message;
        }
    };
    return [answers.map(read), queries.map((one) => scpi.queryFault(one) === null),
        errors.map(scpi.readError), scpi.readWho("Maker, T 1,0,2.1")];
}"""


def test_answers_are_read_as_the_standards_say(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    page.goto("/account/sign-in")
    sent = [list(case[:3]) for case in ANSWERS.values()]
    given = [sent, list(QUERIES), list(ERRORS)]
    found, asked, errors, who = page.evaluate(READ_ALL, given)
    for name, got in zip(ANSWERS, found, strict=True):
        wanted = ANSWERS[name][3]
        right = wanted in got if isinstance(wanted, str) else got == list(wanted)
        assert right, (name, got)
    assert dict(zip(QUERIES, asked, strict=True)) == QUERIES
    assert dict(zip(ERRORS, errors, strict=True)) == ERRORS
    assert (who["type"], who["serial"]) == ("T 1", "")
    context.close()


def behave(page: Page, **how: Any) -> None:
    page.evaluate("(how) => Object.assign(window.instrument, how)", how)


def said(page: Page) -> Locator:
    return page.locator(".wire-row [role=status]")


def press(page: Page) -> None:
    page.get_by_role("button", name="Read from instrument").tap()


def test_one_key_reads_the_instrument_into_the_point_in_hand(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    context.add_init_script(path=INSTRUMENT)
    loaded: list[str] = []
    page.on("request", lambda one: loaded.append(one.url))
    card_id = open_card(page, served, "breaker 52", IR)
    ready(page)
    card = page.url
    # Off by default: nothing of it is on the card or was loaded by the page.
    expect(page.get_by_role("button", name="Read from instrument")).to_have_count(0)
    assert not [url for url in loaded if "/field/wire/" in url]
    page.get_by_text("This tablet: keypad").click()
    page.get_by_label("Read over a wire").check()
    field = page.get_by_label("Reading at A-G", exact=True)
    field.tap()
    press(page)
    expect(said(page)).to_have_text("A-G: nothing was entered. IR-1 is not connected.")
    expect(field).to_be_focused()
    connect_and_try(page)
    page.goto(card)
    page.set_viewport_size({"width": 768, "height": 1024})
    field.tap()
    press(page)
    expect(field).to_have_value("4.81234")
    expect(page.get_by_label("Unit at A-G", exact=True)).to_have_value("GOhm")
    source = page.locator(".point-source").first
    expect(source).to_contain_text("read from the wire at")
    expect(source).to_contain_text("Plinth Works,IR 10,S-IR-1,1.02")
    key = page.get_by_role("button", name="Read from instrument").bounding_box()
    assert key is not None
    assert key["height"] >= LEAST_KEY and key["width"] >= LEAST_KEY
    check_page(page)
    # Recorded by the person alone, and the note goes with it.
    with served.session() as session:
        assert session.query(Reading).filter_by(card_id=card_id).count() == 0
    field.press("Enter")
    expect(page.locator("#signal")).to_have_text("Everything is recorded")
    changed_by_hand(page)
    check_record(served, card_id)
    # After a reload the port that was allowed opens by the key itself.
    page.reload()
    behave(page, allowed=True)
    third = page.get_by_label("Reading at C-G", exact=True)
    third.tap()
    press(page)
    expect(third).to_have_value("4.81234")
    context.close()


def connect_and_try(page: Page) -> None:
    # Connected once: who it is stands beside the register.
    page.get_by_role("link", name="Instrument on a wire").click()
    page.get_by_role("button", name="Choose the port and connect").click()
    expect(page.get_by_text("is that of IR-1 in the register")).to_be_visible()
    page.get_by_role("button", name="Try it").click()
    expect(page.get_by_text("The answer has no unit")).to_be_visible()
    page.get_by_label("Resistance answered in").select_option("Ohm")
    page.get_by_role("button", name="Try it").click()
    expect(page.get_by_text("“+4.81234E+09”: +4.81234E+09 Ω")).to_be_visible()
    check_themes(page)


def changed_by_hand(page: Page) -> None:
    # A value that was changed by hand is no reading from the wire.
    second = page.get_by_label("Reading at B-G", exact=True)
    expect(second).to_be_focused()
    press(page)
    expect(second).to_have_value("4.81234")
    second.fill("4.9")
    expect(page.get_by_text("read from the wire at")).to_have_count(1)  # the note
    second.press("Enter")
    expect(page.get_by_label("Reading at C-G", exact=True)).to_be_focused()
    expect(page.locator("#signal")).to_have_text("Everything is recorded")


def check_record(served: Served, card_id: UUID) -> None:
    """The readings as they stand, and a note beside the one from the wire."""
    with served.session() as session:
        readings = session.query(Reading).filter_by(card_id=card_id)
        assert {(one.text, one.unit) for one in readings} == {
            ("4.81234", "GOhm"),
            ("4.9", "GOhm"),
        }
        (note,) = session.query(Note).filter_by(card_id=card_id)
        assert note.text.startswith("A-G: 4.81234 GΩ, read from the wire at")
        assert note.text.endswith("(FETCh? answered +4.81234E+09).")


# what the instrument does, what is said, and what is said of a good one after it
FAILURES: dict[str, tuple[dict[str, Any], str]] = {
    "silent": ({"does": "stays silent"}, f"No answer within {WAIT_S} s"),
    "half a line": ({"does": "sends half"}, "Half an answer came, “+4.81”"),
    "two answers": ({"does": "answers twice"}, "More than one answer came"),
    "garbage": ({"does": "sends garbage"}, "What came is no text (bytes 8F E2 03 10)"),
    "echo and no answer": ({"does": "echoes only"}, "Only the question came back"),
    "parity": ({"does": "has a parity fault"}, "The parity of what came is wrong"),
    "no line end": ({"does": "never ends"}, "has no line end"),
    "too late": ({"does": "answers late"}, f"No answer within {WAIT_S} s"),
    "an error": (
        {"errors": ['-222,"Data out of range"']},
        "reports an error: -222 Data out of range. It had answered “+4.81234E+09”",
    ),
    "over range": ({"value": "+9.9E+37"}, "The instrument is over range (9.9E37)"),
    "negative": ({"value": "-4.8E+09"}, "It answered -4.8E+09 Ω."),
}


def test_what_goes_wrong_on_the_wire_enters_nothing(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    context.add_init_script(path=INSTRUMENT)
    open_card(page, served, "breaker 52", IR)
    ready(page)
    card = page.url
    turn_on(page)
    page.get_by_label("Wait for an answer").fill(str(WAIT_S))
    connect = page.get_by_role("button", name="Choose the port and connect")
    # A port that is not chosen, held, of another speed; another instrument.
    for how, words in (
        ({"refuses": "NotFoundError"}, "No port was chosen."),
        ({"refuses": "", "held": True}, "The port does not open"),
        ({"held": False, "baud": 19200}, "What came is no text"),
        ({"baud": 9600, "who": "only a name"}, "does not say what the instrument is"),
    ):
        behave(page, **how)
        connect.click()
        expect(page.get_by_text(words)).to_be_visible()
        expect(page.get_by_role("button", name="Disconnect")).to_have_count(0)
    behave(page, who="Plinth Works,IR 10,S-IR-7,1.02")
    connect.click()
    expect(page.get_by_text("the register says S-IR-1 for IR-1")).to_be_visible()
    page.goto(card)
    field = page.get_by_label("Reading at A-G", exact=True)
    field.tap()
    press(page)
    expect(said(page)).to_contain_text("says serial number S-IR-7, and the register")
    expect(field).to_have_value("")
    page.get_by_role("link", name="Wire ›", exact=True).click()
    page.get_by_label("I have compared the plate").check()
    page.goto(card)
    for name, (how, words) in FAILURES.items():
        behave(page, does="answers", value="+4.81234E+09", errors=[])
        behave(page, **how)
        field.fill("")
        press(page)
        expect(said(page), name).to_contain_text("A-G: nothing was entered.")
        expect(said(page), name).to_contain_text(words)
        expect(field, name).to_have_value("")
        # A late answer comes before the next question, however slow the machine is.
        page.wait_for_function("() => window.instrument.late === 0")
    # After all that a good answer is taken, and never one that came late.
    behave(page, does="echoes", value="+5.5E+09", errors=[])
    press(page)
    expect(field).to_have_value("5.5")
    unplugged(page, card)
    context.close()


def unplugged(page: Page, card: str) -> None:
    """In the middle; then it opens again, and what is typed meanwhile stays."""
    field = page.get_by_label("Reading at A-G", exact=True)
    behave(page, does="is unplugged")
    press(page)
    expect(said(page)).to_contain_text("it was unplugged or switched off")
    expect(field).to_have_value("5.5")
    page.get_by_role("link", name="Wire ›", exact=True).click()
    page.get_by_label("Wait for an answer").fill("30")
    page.goto(card)
    field.tap()
    behave(page, does="answers when told", who="Plinth Works,IR 10,S-IR-1,1.02")
    press(page)
    while not page.evaluate("'tell' in window.instrument"):
        page.wait_for_timeout(50)
    expect(said(page)).to_contain_text("Reading A-G")
    field.fill("7")
    page.evaluate("window.instrument.tell()")
    expect(said(page)).to_contain_text("Something was typed there meanwhile")
    expect(field).to_have_value("7")


def turn_on(page: Page) -> None:
    """Choose it on the tablet, and go to the page of the wire."""
    page.get_by_text("This tablet: keypad").click()
    page.get_by_label("Read over a wire").check()
    page.get_by_role("link", name="Instrument on a wire").click()
    page.get_by_label("Query for a resistance").fill("READ?")
    page.get_by_label("Resistance answered in").select_option("Ohm")


def test_where_the_browser_has_no_wire_the_choice_says_so(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    context.add_init_script("delete Navigator.prototype.serial")
    open_card(page, served, "breaker 52", IR)
    page.get_by_text("This tablet: keypad").click()
    expect(page.get_by_text("it has no Web Serial")).to_be_visible()
    expect(page.get_by_label("Read over a wire")).to_have_count(0)
    context.close()
