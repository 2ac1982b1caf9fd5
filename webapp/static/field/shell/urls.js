// Addresses of the server that the field application asks.

const ROUND_PAGE = /^\/field\/rounds\/([0-9a-f-]{36})\//;
const LABEL_PAGE = /^\/a\/([0-9a-f-]{36})$/;

export const CSRF = "/field/csrf.json";

/** The round that this page is about; null on the tablet's own page. */
export function roundHere() {
  return ROUND_PAGE.exec(location.pathname)?.[1] ?? null;
}

/** The thing whose label led here; null else. */
export function labelHere() {
  return LABEL_PAGE.exec(location.pathname)?.[1] ?? null;
}

export const roundPage = (round) => `/field/rounds/${round}/`;

/** What a round's page asks the server for. */
export function urlsOf(round) {
  const field = `/field/rounds/${round}`;
  const desk = `/turnover/rounds/${round}`;
  return {
    round,
    document: `${field}/document.json`,
    entries: `${field}/entries`,
    photos: `${field}/photos`,
    signatures: `${field}/signatures`,
    taken: `${field}/taken`,
    givenBack: `${field}/given-back`,
    told: `${field}/told`,
    news: `${field}/news.json`,
    package: `${desk}/package`,
    gate: desk,
    csrf: CSRF,
  };
}
