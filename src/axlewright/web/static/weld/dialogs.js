// Dialogs with large steppers, and questions that are answered by a choice.

import { typeset } from "./drift.js";
import { stepped } from "./marks.js";

export const open = (id) => {
  const dialog = document.getElementById(id);
  if (dialog && !dialog.open) dialog.showModal();
};
// What was open is told: the next press of the space bar is for the arc, not for what opened the dialog.
export const close = (id) => {
  document.getElementById(id)?.close();
  toArc();
};
export const toArc = () => document.querySelector(".weld-arc:not([hidden])")?.focus({ preventScroll: true });
export const field = (id) => document.getElementById(id);

export function wireDialogs(root) {
  root.addEventListener("click", (event) => {
    const opens = event.target.closest("[data-open]");
    if (opens) open(opens.dataset.open);
    if (event.detail > 0 && event.target.closest("button") && !document.querySelector("dialog[open]")) toArc();
    const step = event.target.closest("[data-step]");
    if (step) {
      const input = step.closest("[data-stepper]").querySelector("input");
      input.value = stepped(input.value, "large" in step.dataset, Number(step.dataset.step));
    }
    // A tap on the backdrop closes what may be closed; a question stays.
    if (event.target.matches("dialog") && event.target.id !== "weld-ask") event.target.close();
  });
  document.getElementById("weld-ask").addEventListener("cancel", (event) => event.preventDefault());
}

const waiting = [];

// choices: [[words, does(), first], ...]; mark: a mark that may be stepped before one is chosen. One after another.
export function ask(question) {
  waiting.push(question);
  showWaiting();
}

// Nothing is asked while an arc burns, nor over another dialog.
export function showWaiting() {
  if (waiting.length && !document.querySelector('[data-shows="burning"], dialog[open]')) showFirst();
}

function showFirst() {
  const [{ head, words, choices, mark }] = waiting;
  const part = (name) => document.querySelector(`[data-part="ask-${name}"]`);
  part("head").textContent = head;
  part("words").textContent = typeset(words);
  part("mark").hidden = mark === undefined;
  field("ask-end").value = mark ?? "";
  part("choices").replaceChildren(...choices.map(choice));
  open("weld-ask");
}

function choice([words, does, first]) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = `button big${first ? " now" : ""}`;
  button.textContent = words;
  button.addEventListener("click", () => {
    waiting.shift();
    does(field("ask-end").value.trim());
    close("weld-ask");
    showWaiting();
  });
  return button;
}
