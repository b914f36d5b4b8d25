// Entries that an address brings are a link's, and not this phone's: shown as such, beside the pilot's own, and kept when they are taken.

import { make, makeButton } from "./page_parts.js";
import { keptEntries } from "./kept_entries.js";
import { A_NUMBER_ALONE } from "./units.js";

const notice = make("section", { class: "from-link", "aria-label": "Entries of a link" });

/** Says below the bar that the form's entries are a link's. `use` takes them over, `goBack` brings the pilot's own. */
export function sayFromLink(form, use, goBack) {
  const hasOwn = [...keptEntries().keys()].some((name) => form.elements.namedItem(name));
  const words = `These entries came with a link. ${hasOwn ? "Yours are kept, and stay as they are until you use these." : "They are kept on this phone only once you use them."}`;
  notice.replaceChildren(
    make("p", { role: "status" }, words),
    ...whatDiffers(form),
    makeButton("Use these entries", use, { class: "button strong" }),
    ...(hasOwn ? [makeButton("Back to mine", goBack)] : []),
  );
  // In the bar below it lies over the page: put before the form, it would push the field away from under a thumb.
  document.querySelector(".bottom").prepend(notice);
  form.dataset.from = "link";
}

export function sayNoLink(form) {
  notice.remove();
  delete form.dataset.from;
}

function whatDiffers(form) {
  const lines = [...keptEntries()].flatMap(([name, [text]]) => {
    const field = form.elements.namedItem(name);
    const label = document.querySelector(`label[for="entry-${field?.name}"], [data-taps="${field?.name}"]`);
    if (!label || field.value === text) return [];
    const sign = label.querySelector(".unit, .unseen")?.textContent ?? "";
    const says = label.getAttribute("aria-label") ?? label.firstChild.textContent.trim();
    const option = [...(field.options ?? [])].find(({ value }) => value === text)?.textContent;
    return [make("li", {}, `${says}: ${option ?? (A_NUMBER_ALONE.test(text) ? `${text}\u00a0${sign}` : text)}`)];
  });
  if (!lines.length) return [];
  return [make("details", {}, make("summary", {}, "Yours, where they differ"), make("ul", {}, ...lines))];
}
