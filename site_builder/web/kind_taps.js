// The kinds that most packs are, as a row of buttons over the list that has all of them. None is pressed before the pilot presses it.

/** Marks the button of the kind that stands in the list, and shows the list where it is none of theirs. */
export function markKinds(form) {
  for (const row of form.querySelectorAll("[data-taps]")) {
    const select = form.elements.namedItem(row.dataset.taps);
    const others = row.querySelector('[data-kind=""]');
    const tapped = row.querySelector(`[data-kind="${select.value}"]`);
    const isOther = select.value === "" ? others.getAttribute("aria-pressed") === "true" : tapped === null;
    for (const button of row.children) button.setAttribute("aria-pressed", button === others ? isOther : button === tapped);
    row.parentElement.toggleAttribute("data-taps-only", !isOther);
  }
}

document.addEventListener("click", ({ target }) => {
  const button = target.closest?.("[data-taps] > [data-kind]");
  if (!button) return;
  const row = button.parentElement;
  const select = button.form.elements.namedItem(row.dataset.taps);
  if (button.dataset.kind === "") button.setAttribute("aria-pressed", "true");
  else row.querySelector('[data-kind=""]').setAttribute("aria-pressed", "false");
  select.value = button.dataset.kind;
  select.dispatchEvent(new Event("input", { bubbles: true }));
  if (button.dataset.kind === "") select.focus();
});
