// The spare rows of a form ("Pack 3, if there is one"): what is typed in one counts, so it is marked, and never hidden at the start.

/** Marks each spare row in which something is typed. The style sheet shows those, and the next one. */
export function markRows(form, startsAs) {
  for (const row of form.querySelectorAll("[data-spare-row]")) {
    const fields = [...row.querySelectorAll("[name]")];
    row.toggleAttribute("data-filled", fields.some((field) => field.value.trim() !== startsAs[field.name]));
  }
}

export function foldRows(form, startsAs) {
  markRows(form, startsAs);
  for (const row of form.querySelectorAll("[data-spare-row]")) row.open = row.hasAttribute("data-filled");
}

// A row may take over the label of the row before it. What may stay empty, and what is measured, is each pack's own.
document.addEventListener("click", ({ target }) => {
  const button = target.closest?.("[data-before]");
  if (!button) return;
  const group = button.closest(".group");
  for (const field of group.querySelectorAll(".entry:not(:has(.optional)) [name]:not([data-measured])")) {
    field.value = field.form.elements[field.name.replace(button.dataset.row, button.dataset.before)].value;
  }
  button.dispatchEvent(new Event("input", { bubbles: true }));
  group.querySelector("[data-measured]")?.focus();
});
