"""Lines given by hand on the tablet: what is noted typed, then one tap each."""

from playwright.sync_api import Page, expect

from tests.browser.hand_count import Hand

IN_HAND = "In hand: "
SEEN_MS = 8000  # within that a tap has done what it does
PAUSE_MS = 650  # a second tap of the same touch is no statement
TYPED = {"number": "3", "text": "as listed"}


def code_in_hand(page: Page) -> str:
    """Return the code of the line that is in hand."""
    line = page.get_by_role("region", name=IN_HAND).first
    return (line.get_attribute("aria-label") or "").removeprefix(IN_HAND)


def note(hand: Hand, page: Page) -> None:
    """Type what the line in hand asks to be noted."""
    line = page.get_by_role("region", name=IN_HAND).first
    for field in line.locator(".noted-text input, .noted-number input").all():
        if not field.input_value():
            kind = "number" if field.get_attribute("inputmode") else "text"
            field.fill(TYPED[kind])
    for choice in line.locator("fieldset").all():
        if not choice.locator("[aria-pressed=true], input:checked").count():
            hand.tap(choice.locator("button, input").first)
    if code_in_hand(page) == "T2":
        choose_instrument(hand, page)


def choose_instrument(hand: Hand, page: Page) -> None:
    """Choose the set at the line that asks for it: its serial number is known then."""
    field = page.get_by_label("Instrument", exact=True)
    if field.input_value():
        return
    names = field.locator("option").all_inner_texts()
    hand.choose(field, label=next(name for name in names if "-1 · " in name))
    expect(page.locator(".noted-known")).to_be_visible()


def give_line(hand: Hand, page: Page) -> str:
    """Note what the line in hand asks, and confirm it with one tap; return its code."""
    code = code_in_hand(page)
    note(hand, page)
    page.wait_for_timeout(PAUSE_MS)
    line = page.get_by_role("region", name=f"{IN_HAND}{code}", exact=True)
    hand.tap(line.locator(".line-confirm"))
    try:
        expect(line).to_have_count(0, timeout=SEEN_MS)
    except AssertionError:  # a tap that got lost on a busy tablet is given once more
        hand.tap(line.locator(".line-confirm"))
        expect(line).to_have_count(0)
    return code


def give_all(page: Page, hand: Hand | None = None) -> list[str]:
    """Give every line that is in hand, one after the other; return their codes."""
    given = []
    hand = hand or Hand(page)
    expect(page.get_by_role("region", name=IN_HAND).first).to_be_visible()
    while page.get_by_role("region", name=IN_HAND).count():
        given.append(give_line(hand, page))
    return given


def set_time_aside(page: Page) -> None:
    """Say by two names and a reason that the ground does not stay on for its time."""
    page.get_by_role("button", name="Earlier, by two names").click()
    page.get_by_label("Why P03a is set aside").fill("Fire alarm.")
    page.get_by_label("First person who agrees").fill("Ines Calder")
    page.get_by_role("button", name="Set P03a aside").click()
    expect(page.get_by_text("Two people other than the tester")).to_be_visible()
    page.get_by_label("Second person who agrees").fill("Jon Pell")
    page.get_by_role("button", name="Set P03a aside").click()


def make_safe(page: Page) -> None:
    """Make safe after a test with dc; two agree that the ground comes off early."""
    hand = Hand(page)
    while page.get_by_role("region", name=IN_HAND).count():
        if code_in_hand(page) != "P03a":
            give_line(hand, page)
            continue
        page.get_by_role("button", name="The dc is off").click()
        set_time_aside(page)
        expect(page.get_by_label(f"{IN_HAND}P03a")).to_have_count(0)
