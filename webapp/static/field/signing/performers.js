// Who signs a card as performed: whoever took readings that hold signs for them.

/** Who took readings of *card*, each with what they say by signing. */
export function performers(card) {
  return card.performers ?? []; // a round taken from an older server has none
}

/** Return whether this person is to sign *card*: they took readings and have not signed. */
export function mineToSign(store, card) {
  const own = performers(card).find((one) => one.id === store.doc.person.id);
  // What waits in the outbox is this person's own: nobody else's is opened here.
  return own ? !own.signed : card.readings.some(({ waiting, superseded_by: later }) => waiting && !later);
}
