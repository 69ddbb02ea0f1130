// Tacks ticked one by one in the order of the plan, or all at once.

export class Tacks {
  constructor(weld) {
    this.weld = weld;
    weld.root.addEventListener("click", (event) => {
      const button = event.target.closest("[data-tack]");
      if (button) this.tap(button);
      if (event.target.closest('[data-part="tacks-done"]')) weld.outbox.add({ event: "tacks done" });
    });
  }

  tap(button) {
    if (button.getAttribute("aria-pressed") === "true") return;
    this.weld.outbox.add({ event: "tack", bead: button.dataset.tack });
  }

  // The answer tells how many are set, not which: those told here, and of the others the first in the plan's order.
  draw(state) {
    const told = this.weld.outbox;
    const here = new Set([...told.told(), ...told.pending()].filter((tap) => tap.event === "tack").map((tap) => tap.bead));
    const buttons = [...this.weld.root.querySelectorAll("[data-tack]")];
    const set = new Set(buttons.map((one) => one.dataset.tack).filter((tag) => here.has(tag)).slice(0, state.tacks_set));
    for (const { dataset } of buttons) if (set.size < state.tacks_set) set.add(dataset.tack);
    const next = buttons.find((one) => !set.has(one.dataset.tack));
    for (const one of buttons) {
      one.setAttribute("aria-pressed", String(set.has(one.dataset.tack)));
      one.classList.toggle("next", one === next);
    }
    return next;
  }
}
