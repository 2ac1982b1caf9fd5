"""What a tablet has written to its disk: a killed browser loses what it has not."""

from playwright.sync_api import Locator

# The names and times of what is kept can be read; what stands in it is sealed.
DRAFT_SINCE = """async () => {
  const since = window.typedAt;
  const opening = indexedDB.open("witnessmark");
  await new Promise((done) => (opening.onsuccess = done));
  const reading = opening.result.transaction("kept").objectStore("kept").getAll();
  await new Promise((done) => (reading.onsuccess = done));
  opening.result.close();
  const isNew = ({ name, at }) => name.startsWith("draft:") && Date.parse(at) >= since;
  return reading.result.some(isNew);
}"""
# A draft that was on its way before is not taken for the one with the text.
NOTE_TYPING = """() => addEventListener("input", () => {
  window.typedAt = Date.now();
}, { capture: true })"""


def type_and_keep(field: Locator, text: str) -> None:
    """Type into a field of a card, and wait until the disk has it."""
    field.page.evaluate(NOTE_TYPING)
    field.fill(text)
    while not field.page.evaluate(DRAFT_SINCE):  # a promise, which is waited for
        field.page.wait_for_timeout(50)
