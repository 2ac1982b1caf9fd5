// What the service worker remembers for the pages of this tablet, in memory only: a key
// that is open, and the key that a password gave on the sign-in page. A classic script;
// `kept/worker.js` is the pages' side. The browser ends a worker that is idle for some
// seconds, so pages say the open key again from time to time.

(() => {
  const FIRST_KEY_MS = 10 * 60 * 1000;
  let open = null;
  let first = null;

  const answers = {
    "open-key:remember": ({ person, key }) => {
      open = { person, key };
      return true;
    },
    "open-key:ask": () => open,
    "open-key:forget": () => {
      open = null;
      return true;
    },
    "first-key:remember": ({ sign_in, salt, iterations, key }) => {
      first = { sign_in, salt, iterations, key, until: Date.now() + FIRST_KEY_MS };
      return true;
    },
    "first-key:take": ({ sign_in }) => {
      const found = first?.sign_in === sign_in && Date.now() < first.until ? first : null;
      first = null;
      return found;
    },
    "first-key:forget": () => {
      first = null;
      return true;
    },
  };

  self.addEventListener("message", (event) => {
    const answer = answers[event.data?.type];
    if (!answer) return;
    const said = answer(event.data);
    event.ports[0]?.postMessage(said);
  });
})();
