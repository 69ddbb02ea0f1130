// The dimensions form: the field in focus is shown on its drawing, messages wait until a field is left, and what is typed
// is kept in this browser until it is saved.

const form = () => document.getElementById("dimensions");
const named = (target) => (target?.name && form()?.contains(target) ? target.name : "");
const quiet = new Set(["key", "draft", "units", "units_typed", "last", "touched", "section", "comments_go", "do", "reason"]);

// Drawings -------------------------------------------------------------------------------------------------------------
document.documentElement.classList.add("scripted");
const lastShown = new Map();

function showOnDrawing() {
  const name = named(document.activeElement);
  for (const dimension of document.querySelectorAll(".dimension")) {
    const now = dimension.dataset.field === name;
    dimension.classList.toggle("now", now);
    if (!now) continue;
    const picture = dimension.closest(".picture");
    lastShown.set(picture.id, [...picture.children].indexOf(dimension.closest("svg")));
    // The one in focus lies on top of the others.
    if (dimension.nextElementSibling) dimension.parentNode.append(dimension);
  }
  // Where only one view of a card fits on the screen, it is the one that was last measured in.
  for (const picture of document.querySelectorAll(".picture")) {
    const shown = lastShown.get(picture.id) ?? 0;
    [...picture.children].forEach((view, n) => view.classList.toggle("shown", n === Math.min(shown, picture.children.length - 1)));
  }
}

function markWrong() {
  for (const slot of document.querySelectorAll(".dimensions .wrong-words")) {
    const field = document.getElementById(`f-${slot.id.slice(2)}`);
    if (!field?.name) continue;
    if (slot.hidden) field.removeAttribute("aria-invalid");
    else field.setAttribute("aria-invalid", "true");
  }
}

document.addEventListener("focusin", showOnDrawing);
document.addEventListener("focusout", () => setTimeout(showOnDrawing));
for (const done of ["htmx:oobAfterSwap", "htmx:afterSettle"]) {
  document.addEventListener(done, () => { showOnDrawing(); markWrong(); });
}

// While a field is typed into only its own section is drawn anew; once it is left, all are.
document.addEventListener("input", (event) => {
  if (!named(event.target)) return;
  form().elements.section.value = event.target.closest("[data-section]")?.dataset.section ?? "";
  keepDraft();
}, true);

document.addEventListener("change", (event) => {
  const name = named(event.target);
  if (!name || quiet.has(name)) return;
  form().elements.section.value = "";
  const touched = form().elements.touched;
  if (touched.value !== "*" && !touched.value.split(" ").includes(name)) touched.value = `${touched.value} ${name}`.trim();
}, true);

// A button, or the other units, sends the whole form and gets a new one: nothing is drawn from the old one meanwhile.
document.addEventListener("htmx:beforeRequest", (event) => {
  const asking = event.detail.elt;
  if (!form()?.contains(asking)) return;
  if (asking === form()) {
    if (form().dataset.asking) event.preventDefault();
  } else {
    form().dataset.asking = "yes";
    window.htmx.trigger(form(), "htmx:abort");
  }
});
document.addEventListener("htmx:afterRequest", (event) => {
  if (form() && event.detail.elt !== form()) delete form().dataset.asking;
});

// Enter in a field draws; it neither saves nor sends the page.
document.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.target.tagName !== "INPUT" || !named(event.target)) return;
  event.preventDefault();
  event.target.dispatchEvent(new Event("change", { bubbles: true }));
});

// Draft ----------------------------------------------------------------------------------------------------------------
const place = () => `axlewright-draft:${form().dataset.job}`;
const stored = () => { try { return JSON.parse(localStorage.getItem(place())); } catch { return null; } };
const forget = () => { try { localStorage.removeItem(place()); } catch { /* a browser that keeps nothing */ } };
const typed = () => [...new FormData(form())].filter(([name, value]) => typeof value === "string" && !quiet.has(name));
const plain = (pairs) => JSON.stringify(pairs.filter(([, value]) => value !== "").sort());

let waiting = 0;
function keepDraft() {
  clearTimeout(waiting);
  waiting = setTimeout(keepNow, 300);
}

function keepNow() {
  clearTimeout(waiting);
  waiting = 0;
  const now = { key: form().elements.draft.value, units: form().elements.units.value, at: Date.now(), fields: typed() };
  try { localStorage.setItem(place(), JSON.stringify(now)); } catch { /* full or forbidden: the form itself still holds it */ }
}

// Whoever leaves in the middle of a word loses none of it.
addEventListener("pagehide", () => { if (waiting && form()) keepNow(); });
document.addEventListener("visibilitychange", () => { if (document.hidden && waiting && form()) keepNow(); });

function offerDraft() {
  const draft = stored();
  if (!draft) return;
  const saved = document.cookie.split("; ").find((one) => one.startsWith("saved-draft="))?.slice(12);
  if (draft.key === saved || plain(draft.fields) === plain(typed())) return forget();
  if (form().elements.draft.value === draft.key) return;
  const box = document.getElementById("draft-found");
  document.getElementById("draft-words").textContent =
    `What was typed on this device ${new Date(draft.at).toLocaleString()} was never saved.`;
  box.hidden = false;
  document.getElementById("draft-take").addEventListener("click", () => { box.hidden = true; takeDraft(draft); });
  document.getElementById("draft-leave").addEventListener("click", () => { box.hidden = true; forget(); });
}

function takeDraft(draft) {
  const values = { ...Object.fromEntries(draft.fields), units: draft.units, units_typed: draft.units, draft: draft.key, do: "show" };
  const address = form().getAttribute("action");
  window.htmx.ajax("POST", address, { target: "#dimensions", select: "#dimensions", swap: "outerHTML", source: document.body, values });
}

// Rows that were added or taken away, and the other units, are part of the draft too.
document.addEventListener("htmx:afterSettle", (event) => { if (event.detail.target?.id === "dimensions") keepDraft(); });

addEventListener("DOMContentLoaded", () => {
  if (!form()) return;
  offerDraft();
  markWrong();
  showOnDrawing();
  (document.getElementById("why") ?? document.getElementById("summary"))?.focus();
});
