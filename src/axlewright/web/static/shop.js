// What every page does: dialogs that open when they are filled, told faults that are brought into view, and the shell
// kept for when the shop's computer cannot be reached.

const whence = document.getElementById("whence");
const told = document.getElementById("told");

document.addEventListener("htmx:afterSwap", (event) => {
  const target = event.detail.target;
  if (target === whence && whence.childElementCount > 0 && !whence.open) whence.showModal();
  if (target === told) showTold();
});

// A click on the backdrop closes; so does the Escape key, by the browser itself.
whence?.addEventListener("click", (event) => {
  if (event.target === whence) whence.close();
});

// What was told of an earlier try is out of date as soon as another is sent.
// What a page asks for by itself, to see how far work is, is no try of anybody's.
const byItself = (event) => event.detail.elt?.matches?.("[data-quiet]");
document.addEventListener("htmx:beforeRequest", (event) => {
  if (!byItself(event)) told?.replaceChildren();
});

document.addEventListener("htmx:sendError", (event) => {
  if (!byItself(event)) tell("The shop's computer does not answer.", "Nothing was changed. See that it runs and try again.");
});

function tell(says, words) {
  if (!told) return;
  const notice = document.createElement("div");
  notice.className = "notice wrong";
  const line = document.createElement("p");
  const strong = document.createElement("span");
  strong.className = "says";
  strong.textContent = says;
  line.append(strong, ` ${words}`);
  notice.append(line);
  told.replaceChildren(notice);
  showTold();
}

function showTold() {
  if (whence?.open) whence.close();
  told.scrollIntoView({ block: "start" });
  told.focus({ preventScroll: true });
}

// A form is sent once: a second tap of an impatient finger does nothing until there is an answer.
// (Where one gets through all the same, its key makes the record count it once.)
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method === "dialog" || event.defaultPrevented) return;
  if (form.dataset.sent) event.preventDefault();
  else form.dataset.sent = "yes";
});
window.addEventListener("pageshow", () => {
  for (const form of document.forms) delete form.dataset.sent;
});
document.addEventListener("htmx:afterRequest", (event) => {
  const form = event.target.closest?.("form");
  if (form) delete form.dataset.sent;
});

if ("serviceWorker" in navigator) navigator.serviceWorker.register("/service-worker.js").catch(() => {});
