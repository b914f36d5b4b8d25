// The line that unfolds to several packs as one act. It comes with the answer, so that nothing moves; what it holds comes right after.

import { hide, make } from "./page_parts.js";

/** Returns a closed line with that title, and a place in it for what is chosen. */
export const closedLine = (title) =>
  make("details", { class: "group several", "data-stays": "several" }, make("summary", {}, make("b", {}, title), " ", make("span", { class: "line-says" })));

/** On the page of one pack: that pack, and how many more, below its settings. */
export function start(leaving) {
  const form = document.getElementById("entries");
  const line = closedLine("Several at once");
  let filled; // on its way, or there
  const fill = () => (filled ??= import("./few_pages.js").then(({ several }) => several.fill(line, leaving), () => (filled = null)));
  const place = () => {
    const body = document.getElementById("answer-body");
    const isAnswered = ["answer", "partial"].includes(document.getElementById("answer").dataset.state) && form.dataset.from !== "link";
    hide(line, !isAnswered);
    const notCounted = body.querySelector(".not-counted");
    const rest = body.querySelector(".answer-rest");
    if (notCounted && line.previousElementSibling !== notCounted) notCounted.after(line);
    else if (!notCounted && rest && line.nextElementSibling !== rest) rest.before(line);
    if (isAnswered) fill();
  };
  document.addEventListener("fieldslate:answer", place, { signal: leaving });
  line.addEventListener("toggle", fill, { signal: leaving });
  place();
}
