// Typing readings: Enter goes to the next field, and the place being typed stands out in the drawing beside it.

const form = document.getElementById("readings");

form?.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
  event.preventDefault();
  const fields = [...form.querySelectorAll(".entry input:not([type=hidden]), .entry select, .save input, .save button")];
  const open = fields.filter((field) => field.checkVisibility({ contentVisibilityAuto: true, visibilityProperty: true }));
  open[open.indexOf(event.target) + 1]?.focus();
});

form?.addEventListener("focusin", (event) => {
  for (const lit of form.querySelectorAll(".station.now")) lit.classList.remove("now");
  const row = event.target.closest?.(".reading");
  if (!row) return;
  form.querySelector(`.station[data-row="${CSS.escape(row.dataset.row)}"]`)?.classList.add("now");
});

// A line that was just added is the one to type into.
document.addEventListener("htmx:afterSwap", (event) => {
  const rows = event.detail.target;
  if (!rows.matches?.(".rows")) return;
  rows.lastElementChild?.querySelector("input:not([type=hidden]), select")?.focus();
});

// Leaving with lines typed and not saved is asked about.
let typed = false;
form?.addEventListener("input", () => { typed = true; });
form?.addEventListener("submit", () => { typed = false; });
window.addEventListener("beforeunload", (event) => { if (typed) event.preventDefault(); });
