// The plan page: the picture and the list of plans follow one another, and paper shows what is folded.

const MARK = "a.plan-mark";

document.addEventListener("change", (event) => {
  if (event.target.matches('.plans input[name="number"]')) look(event.target.value);
});

// A touch on the picture chooses in the list; without scripts the link leads to the same.
document.addEventListener("click", (event) => {
  const mark = event.target.closest?.(`${MARK}, a.plan-target`);
  if (!mark) return;
  event.preventDefault();
  look(mark.dataset.plan);
});

// Arrow keys go from mark to mark, space and Enter choose: as in a group of radio buttons.
document.addEventListener("keydown", (event) => {
  const mark = event.target.closest?.(MARK);
  if (!mark) return;
  const marks = [...document.querySelectorAll(MARK)];
  const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
  if (step) {
    event.preventDefault();
    const next = marks[(marks.indexOf(mark) + step + marks.length) % marks.length];
    look(next.dataset.plan);
    next.focus();
  } else if (event.key === " " || event.key === "Enter") {
    event.preventDefault();
    look(mark.dataset.plan);
  }
});

function look(number) {
  const radio = document.querySelector(`.plans input[value="${CSS.escape(number)}"]`);
  if (!radio) return;
  radio.checked = true;
  for (const one of document.querySelectorAll(`${MARK}, .plans tr[data-plan]`)) {
    one.classList.toggle("looked", one.dataset.plan === number);
  }
  oneStop();
  const button = document.querySelector("[data-take]");
  if (!button) return;
  const shown = document.querySelector(`${MARK}.chosen`)?.dataset.plan === number;
  button.textContent = `Take plan ${number}`;
  button.disabled = shown;
  document.querySelector("[data-take-words]").textContent = shown
    ? "This plan is shown now. Touch another to take it."
    : "It is worked out in full and takes this one's place, in half a minute or so.";
}

// One stop of the Tab key for the whole picture.
function oneStop() {
  const marks = [...document.querySelectorAll(MARK)];
  const here = marks.find((mark) => mark.classList.contains("looked")) ?? marks[0];
  for (const mark of marks) mark.setAttribute("tabindex", mark === here ? "0" : "-1");
}

oneStop();
document.addEventListener("htmx:afterSettle", oneStop);

const opened = new Set();
addEventListener("beforeprint", () => {
  for (const one of document.querySelectorAll("main details:not([open])")) {
    opened.add(one);
    one.open = true;
  }
});
addEventListener("afterprint", () => {
  for (const one of opened) one.open = false;
  opened.clear();
});
