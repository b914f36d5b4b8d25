// A choice as a row of buttons, each one tap, over the field that the form holds: a list that has all of it, where some have no button. None is
// pressed before the pilot presses it. What is asked in place of a choice, a number for a word, takes the choice back, and the choice empties it.

const entryOf = (field) => field.closest(".entry");
const optionsOf = (entry) => entry.dataset.onlyOptions.split(" ");
const choiceFor = (entry) => entry.closest("form").elements.namedItem(entry.dataset.onlyWith);

/** Says whether an entry is asked where nothing is chosen: then it stands for the choice, and stays in sight. */
const isInPlace = (entry) => "onlyWith" in entry.dataset && optionsOf(entry).includes("");

/** Says whether an entry belongs to what is chosen now. */
export function isAsked(entry) {
  if (!("onlyWith" in entry.dataset)) return true;
  const choice = choiceFor(entry);
  return isAsked(entryOf(choice)) && (isInPlace(entry) || optionsOf(entry).includes(choice.value));
}

/** Says whether a field is filled in, or what is asked in its place is. */
export function isFilled(field) {
  const entry = entryOf(field);
  if (field.value !== "") return true;
  if (isInPlace(entry)) return isChosenInPlace(entry);
  return placesOf(field).some(({ value }) => value !== "");
}

const isChosenInPlace = (entry) => !optionsOf(entry).includes(choiceFor(entry).value);
const placesOf = ({ form, name }) =>
  Array.from(form.querySelectorAll(`[data-only-with="${name}"]`)).filter(isInPlace).map((entry) => entry.querySelector("[name]"));

/** Marks the button of what stands in each list, and shows the list where it is none of theirs. */
export function markTaps(form) {
  for (const row of form.querySelectorAll("[data-taps]")) {
    const field = form.elements.namedItem(row.dataset.taps);
    const others = row.querySelector('[value=""]');
    const tapped = field.value && row.querySelector(`[value="${field.value}"]`);
    const isOther = others !== null && !tapped && (field.value !== "" || others.getAttribute("aria-pressed") === "true");
    for (const button of row.children) button.setAttribute("aria-pressed", button === others ? isOther : button === tapped);
    row.parentElement.toggleAttribute("data-taps-only", !isOther);
  }
}

/** Empties what is entered twice, by a choice and in its place, as a link may have it: the choice is what counts. */
export function emptyTwice(form) {
  for (const entry of form.querySelectorAll("[data-only-with]")) {
    if (isInPlace(entry) && isChosenInPlace(entry)) entry.querySelector("[name]").value = "";
  }
}

document.addEventListener("click", ({ target, detail }) => {
  const button = target.closest?.("[data-taps] > button");
  if (!button) return;
  const row = button.parentElement;
  const field = button.form.elements.namedItem(row.dataset.taps);
  const others = row.querySelector('[value=""]');
  others?.setAttribute("aria-pressed", String(button === others));
  field.value = button.value;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  const [place] = placesOf(field);
  if (button === others) field.focus();
  else if (place && !isChosenInPlace(entryOf(place))) place.focus(); // it is measured
  else if (place && detail > 0) button.blur(); // a tap is done with the readings, while keys go on from here
});

// Before the form hears of it.
document.addEventListener(
  "input",
  ({ target: { form, name, value } }) => {
    if (!form || !name || value === "") return;
    const entry = entryOf(form.elements.namedItem(name));
    if (entry && isInPlace(entry)) choiceFor(entry).value = "";
    else for (const place of placesOf(form.elements.namedItem(name))) if (isChosenInPlace(entryOf(place))) place.value = "";
  },
  { capture: true },
);
