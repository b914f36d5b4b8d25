// The ways in which several packs may be charged, as a list. Whether a way is safe, and why not, the calculator of its page says, which is
// asked with these packs. Nothing is judged here, and nothing entered twice: the packs go along to the page that is chosen.

import { keptEntries, putEntries } from "./kept_entries.js";
import { askBeside } from "./live_engine.js";
import { keepPicked, picked } from "./own_kept.js";
import { make } from "./page_parts.js";
import { goTo } from "./travel.js";
import { trustedHtml } from "./trusted.js";
import { choices } from "./units.js";

const IN_TURN = { page: "day-plan.html", title: "One after the other", says: "Always: each by itself, with settings of its own. The plan of the day has their order." };

/**
 * Fills a place with the ways for `packs`: {rows, beside, moments, ids, names}. `rows` are their entries by the names of the pages with rows,
 * `beside` those of charger and supply, `moments` those of readings among the rows, and `ids` and `names` those of the pilot's own.
 */
export async function showWays(place, packs) {
  const entries = { ...packs.beside, ...packs.rows };
  const now = JSON.stringify([entries, packs.names, choices()]);
  if (place.dataset.shows === now) return;
  place.dataset.shows = now;
  const ways = JSON.parse(document.querySelector("[data-ways]").dataset.ways);
  const answers = await Promise.all(ways.map(({ calculator }) => askBeside(calculator, entries, choices()).catch(() => null)));
  if (place.dataset.shows !== now) return; // other packs were chosen meanwhile
  const lines = ways.map((way, at) => lineOf(way, answers[at], packs));
  place.replaceChildren(make("ul", { class: "several-ways" }, ...lines, offered(IN_TURN, packs)));
}

export function showNoWays(place) {
  delete place.dataset.shows;
  place.replaceChildren();
}

function lineOf(way, answer, packs) {
  if (!answer) return refused(way, "This could not be worked out. Choose the packs again.");
  const { content } = Object.assign(document.createElement("template"), { innerHTML: trustedHtml(answer.html) });
  const named = (text) => text.replaceAll(/\bPack (\d+)\b/g, (title, number) => packs.names[number - 1] || title);
  const textsOf = (selector) => Array.from(content.querySelectorAll(selector), ({ textContent }) => named(textContent.replaceAll(/\s+/g, " ").trim()));
  if (answer.kind === "refusal") return refused(way, textsOf(".refusal li").join(" "));
  return offered({ ...way, says: textsOf(".verdict .figure, .verdict .set-by").join(": ") }, packs);
}

const refused = ({ title }, why) => make("li", { class: "way-refused" }, make("p", {}, make("b", {}, `${title}: no.`), " ", make("span", {}, why)));

function offered({ page, title, says }, packs) {
  const link = make("a", { href: page }, make("b", {}, title), " ", make("span", {}, says));
  link.addEventListener("click", (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    carry(packs).then(() => goTo(page));
  });
  return make("li", {}, link);
}

/** Puts the packs into the rows that the other page asks, in the place of whatever stood in them. */
function carry({ rows, moments, ids }) {
  const before = [...keptEntries().keys()].filter((name) => /^(packs_\d|alike_packs$)/.test(name));
  return Promise.all([putEntries(rows, before, moments), keepPicked({ ...picked(), packs: ids.join(" ") })]);
}
