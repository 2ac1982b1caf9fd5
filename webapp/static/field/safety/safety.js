// What stands at a moment by the acts so far: models/record/safety in JavaScript.

export class Safety {
  constructor(book, acts, readings, signed, cells) {
    Object.assign(this, { book, acts, readings, signed, cells });
  }

  site() {
    return { stop: null, crews: [], isolations: [], points: {} };
  }

  card(cardId) {
    const none = (scope) => ({ scope, of: null, state: "none", since: null, by: null, cause: null, at: null, lines: [] });
    return {
      open: true,
      reasons: [],
      crew: none("crew"),
      isolation: none("isolation"),
      point: none("point"),
      test: { ...none("test"), of: cardId },
      after: { ...none("after"), of: cardId },
    };
  }

  check() {
    return [];
  }
}
