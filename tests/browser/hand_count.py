"""How long a practised hand needs: taps, keys and characters are counted as they go.

A tap or a key that does something is 0.35 s, a character of a text is typed at 40 words
a minute, a word being five of them (the figures that the issue for the set-up names).
Waiting for a page is the machine's time and not counted.
"""

from dataclasses import dataclass

from playwright.sync_api import Locator, Page

SECONDS_A_PRESS = 0.35
CHARACTERS_A_MINUTE = 40 * 5
MOST_TABS = 80  # to a thing on the same page


@dataclass(slots=True)
class Hand:
    """A hand at one page: it taps, presses keys and types, and is counted."""

    page: Page
    taps: int = 0
    keys: int = 0
    characters: int = 0

    @property
    def seconds(self) -> float:
        """What all of it takes."""
        presses = (self.taps + self.keys) * SECONDS_A_PRESS
        return presses + self.characters * 60 / CHARACTERS_A_MINUTE

    def tap(self, target: Locator) -> None:
        """Tap, or click."""
        self.taps += 1
        target.click()

    def choose(self, select: Locator, *, label: str) -> None:
        """Choose from a list: one tap opens it, one takes the line."""
        self.taps += 2
        select.select_option(label=label)

    def key(self, name: str, times: int = 1) -> None:
        """Press a key, or keys held together, so often."""
        self.keys += times
        for _ in range(times):
            self.page.keyboard.press(name)

    def write(self, text: str) -> None:
        """Type a text where the focus is."""
        self.characters += len(text)
        self.page.keyboard.type(text)

    def tab_to(self, target: Locator) -> None:
        """Go to a thing by the Tab key alone."""
        for _ in range(MOST_TABS):
            if target.evaluate("(one) => one === document.activeElement"):
                return
            self.key("Tab")
        raise AssertionError(f"{MOST_TABS} times Tab did not lead to {target}")
