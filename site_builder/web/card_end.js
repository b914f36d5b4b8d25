// How a card ends: the question before, and the record after.

import { atOnDay, make, makeButton, write } from "./page_parts.js";

/** The button that ends a card, at its second tap. `open` counts the steps that are not ticked. */
export function makeEnd(open, finish) {
  const place = make("div", { class: "card-end" });
  const end = makeButton("End this card", ask);
  place.append(end);

  function ask() {
    const count = open();
    const question = make("p", { id: "card-question" }, `End this card and its timers?${count ? ` Steps not ticked: ${count}.` : ""}`);
    const goOn = makeButton("Go on with this card", () => {
      place.replaceChildren(end);
      end.focus();
    });
    const yes = makeButton("Yes, end it", finish, { class: "button strong" });
    place.replaceChildren(make("div", { role: "group", "aria-labelledby": "card-question" }, question, goOn, yes));
    goOn.focus(); // the harmless one: a tap too many must not end a card
  }

  return place;
}

/** The record of the card that stands in `body`, to print or to copy. */
export function makeRecord(card, body) {
  const titleOf = (field) => field.closest(".step").querySelector(".step-title").textContent;
  const settings = Array.from(body.querySelectorAll(".setting"), (setting) => {
    return `${setting.querySelector("dt").textContent}: ${setting.querySelector(".figure").textContent}`;
  });
  const figures = Array.from(body.querySelectorAll(".step-figure[data-from] .figure"), (figure) => `${titleOf(figure)}: ${figure.textContent}`);
  const notes = [...body.querySelectorAll(".step textarea")].filter(({ value }) => value.trim() !== "");
  const open = Array.from(body.querySelectorAll(".tick input:not(:checked)"), titleOf);
  const packs = Array.from(body.querySelectorAll(".card-packs:not([hidden]) p + p"), ({ textContent }) => textContent);
  const lines = [
    `Started: ${atOnDay(card.started)}`,
    `Ended: ${atOnDay(Date.now())}`,
    ...packs,
    ...settings,
    ...figures,
    ...notes.map((field) => `${titleOf(field)}: ${field.value}`),
    open.length ? `Not ticked: ${open.join("; ")}` : "Every step was ticked.",
  ];
  return make(
    "div",
    { class: "card-record" },
    make("h3", { tabindex: "-1" }, "Record of this card"),
    make("ul", {}, ...lines.map((line) => make("li", {}, line))),
    make("p", {}, "It is kept nowhere: print it or copy it now."),
    makeButton("Print it", () => print()),
    ...makeCopy(lines.join("\n")),
  );
}

function makeCopy(text) {
  const said = make("p", { role: "status" });
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      write(said, "It is copied.");
    } catch {
      write(said, "This browser does not let a page copy: mark the lines and copy them.");
    }
  };
  return [makeButton("Copy it", copy), said];
}
