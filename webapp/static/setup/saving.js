// Save the whole draft: it is taken whole, or not at all.

import { plain } from "./draft.js";
import { placed, unread } from "./faults.js";
import { conflictNotice, faultNotice, reasonNotice, sentNotice } from "./notices.js";
import { readPlate } from "./read_plate.js";
import { send } from "./send.js";

/** Save; *over* is the version of somebody else's that is to be followed all the same. */
export async function save(editor, over = null) {
  const faulty = unread(editor.draft, (name, text) => whyUnread(editor, name, text));
  if (faulty.length) return showFaults(editor, faulty);
  if (editor.saving) return undefined;
  editor.saving = true;
  editor.kept.write();
  editor.say("Saving …");
  const answer = await send(editor.addresses.save, editor.token, {
    draft: plain(editor.draft),
    seen_version: over ?? editor.version,
    reason: editor.reason,
  });
  editor.saving = false;
  return take(editor, answer);
}

function whyUnread(editor, name, text) {
  const field = editor.vocabulary.fields[name];
  return readPlate(field, text, editor.draft.ratings.rated_hz).fault ?? "cannot be read.";
}

function take(editor, answer) {
  const { status, faults = [] } = answer;
  if (answer.location) {
    editor.kept.drop();
    return location.assign(answer.location);
  }
  const again = (version) => save(editor, version);
  if (status === 409 && answer.theirs) return editor.tell(conflictNotice(editor, answer, again));
  if (status !== 422) return editor.tell(sentNotice(answer));
  const reason = faults.filter((one) => one.field === "reason");
  if (reason.length) return editor.tell(reasonNotice(editor, reason, () => again(null)));
  return showFaults(editor, placed(editor.draft, faults));
}

/** Mark the cells, list what is wrong, and go to the first. */
function showFaults(editor, faulty) {
  editor.faulty = faulty;
  editor.faults = new Map(faulty.map((one) => [one.place, one.short ?? one.message]));
  editor.notice = faultNotice(editor, faulty);
  editor.goTo(faulty[0]);
}
