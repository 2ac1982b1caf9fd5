"""What a tablet has written to its disk: a killed browser loses what it has not."""

from playwright.sync_api import Locator

# The names and times of what is kept can be read; what stands in it is sealed.
DRAFT_SINCE = """async (since) => {
  const opening = indexedDB.open("witnessmark");
  await new Promise((done) => (opening.onsuccess = done));
  const reading = opening.result.transaction("kept").objectStore("kept").getAll();
  await new Promise((done) => (reading.onsuccess = done));
  opening.result.close();
  const isNew = ({ name, at }) => name.startsWith("draft:") && Date.parse(at) >= since;
  return reading.result.some(isNew);
}"""


def type_and_keep(field: Locator, text: str) -> None:
    """Type into a field of a card, and wait until the disk has it."""
    since = field.page.evaluate("Date.now()")
    field.fill(text)
    field.page.wait_for_function(DRAFT_SINCE, arg=since)
