// The theme is a matter of the room, so it belongs to the device, not the person.
const KEY = "witnessmark-theme";
const THEMES = ["paper", "dark", "outdoor"];

function chosen() {
  try {
    const name = localStorage.getItem(KEY);
    return THEMES.includes(name) ? name : "paper";
  } catch {
    return "paper";
  }
}

function show(name) {
  document.documentElement.dataset.theme = name;
  for (const button of document.querySelectorAll("[data-set-theme]")) {
    button.setAttribute("aria-pressed", String(button.dataset.setTheme === name));
  }
}

document.documentElement.dataset.theme = chosen();

document.addEventListener("DOMContentLoaded", () => {
  show(chosen());
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-set-theme]");
    if (button) {
      try {
        localStorage.setItem(KEY, button.dataset.setTheme);
      } catch {
        // A browser that keeps nothing still shows the theme until it is closed.
      }
      show(button.dataset.setTheme);
      return;
    }
    for (const menu of document.querySelectorAll("details.menu[open]")) {
      if (!menu.contains(event.target)) menu.open = false;
    }
  });
  document.addEventListener("keydown", (event) => {
    const menu = event.key === "Escape" && document.querySelector("details.menu[open]");
    if (menu) {
      menu.open = false;
      menu.querySelector("summary").focus();
    }
  });
  for (const form of document.querySelectorAll("form[data-busy]")) {
    form.addEventListener("submit", () => {
      const button = form.querySelector("button[type=submit]");
      const bar = document.createElement("progress");
      bar.setAttribute("aria-label", form.dataset.busy);
      button.after(bar);
      button.setAttribute("aria-disabled", "true");
      button.textContent = form.dataset.busy;
      form.addEventListener("submit", (again) => again.preventDefault());
    });
  }
});
