// Who says an act, and the key by which a person is told from another.

/** A person's id, or 'name:' and their name in lower case where there is no account. */
export function personKey(person) {
  if (person === null || person === undefined) return null;
  if (typeof person === "string") return person;
  if (person.id) return String(person.id);
  const name = (person.name ?? "").trim().split(/\s+/).join(" ").toLowerCase();
  return name ? `name:${name}` : null;
}

/** Who says it: on a crew's one tablet often not the one who signed in. */
export const speaker = (act) => act.person ?? act.by;

export const speakerKey = (act) => personKey(speaker(act)) ?? "";

/** The keys of all people that are named in what was noted. */
export function keysNamed(noted) {
  const named = Object.values(noted).flat().filter((one) => one !== null && typeof one === "object");
  return new Set(named.map(personKey).filter(Boolean));
}

/** The people of a field, one or several; what is no person is left out. */
export function peopleNoted(noted, field) {
  const several = [noted[field]].flat();
  return several.filter((one) => one !== null && typeof one === "object" && one.name);
}
