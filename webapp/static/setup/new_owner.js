// The fields of a new owner are there only while a new owner is chosen.

const owner = document.querySelector("select[name=owner]");
const fields = document.getElementById("new-owner");

function show() {
  fields.hidden = owner.value !== "new";
}

owner?.addEventListener("change", show);
if (owner) show();
