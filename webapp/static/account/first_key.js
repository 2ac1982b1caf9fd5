// Where a password is typed, the key that it gives is handed to the service worker's
// memory: the tablet's next page can then seal for this person without asking again.
// Only on a browser that has worked on a round before; nothing here may hinder the form.

const LONGEST_MS = 3000; // a slow tablet signs in without it
const TAKEN = "witnessmark-tablet"; // there since the first field page

const form = document.querySelector("form[data-first-key]");

/** Hand over the key before the form is sent; the form is sent whatever comes of it. */
async function send(event) {
  if (event.defaultPrevented) return;
  event.preventDefault();
  await Promise.race([prepared(), later(LONGEST_MS)]).catch(() => {});
  form.submit();
}

async function prepared() {
  const { people, vault, worker } = await modules;
  const sign_in = form.dataset.signIn ?? form.elements.sign_in.value;
  await people.makeWayFor(sign_in);
  const password = form.elements[form.dataset.firstKey].value;
  if (!sign_in || !password || !vault.canSeal()) return;
  const known = await people.saltOf(sign_in);
  const first = await vault.passwordKey(password, known?.salt, known?.iterations);
  await worker.askWorker({ type: "first-key:remember", sign_in: worker.plainName(sign_in), ...first });
}

const later = (ms) => new Promise((done) => setTimeout(done, ms));

/** A password that was wrong is typed again; whoever has left is forgotten. */
async function forgetBefore() {
  const { people, worker } = await modules;
  await worker.askWorker({ type: "first-key:forget" });
  if (new URLSearchParams(location.search).has("left")) await people.forgetOpen();
}

/** Say whose entries wait here: they are sent once that person signs in. */
async function sayWaiting() {
  const { waiting, words } = await modules;
  const place = document.getElementById("waits-here");
  const found = place ? await waiting.waitingHere() : [];
  if (!found.length) return;
  place.append(`Unsent on this tablet until they sign in here: ${found.map(words.waitingWords).join("; ")}.`);
  place.hidden = false;
}

async function fetched() {
  const names = { people: "people", vault: "vault", worker: "worker", waiting: "waiting", words: "waiting_words" };
  const found = Object.entries(names).map(async ([name, file]) => [name, await import(`../field/kept/${file}.js`)]);
  return Object.fromEntries(await Promise.all(found));
}

const modules = form && localStorage.getItem(TAKEN) ? fetched() : null;
if (modules) {
  form.addEventListener("submit", send);
  Promise.all([forgetBefore(), sayWaiting()]).catch(() => {});
}
