// The figures of a job card: out of a calculator's answer, into the places that the card's steps keep for them. Strings only.

const NOT_HERE = "does not apply to these entries";

/** Returns a card's steps with the figures of an answer in them, both HTML. */
export function withFigures(steps, answer) {
  const [card, found] = [steps, answer].map(parsed);
  card.querySelector("[data-cautions]")?.replaceChildren(...found.querySelectorAll(".answer-part > .cautions"));
  for (const place of card.querySelectorAll("[data-from]")) {
    const part = found.querySelector(`[data-part="${place.dataset.from}"]`);
    const [figure, ...beside] = part?.querySelectorAll(".figure, .also, .set-by") ?? [];
    if (!figure) place.textContent = NOT_HERE;
    else if (place.matches(".step-figure")) place.replaceChildren(...[figure, ...beside].flatMap((one) => [one.cloneNode(true), " "]));
    else place.textContent = figure.textContent;
  }
  return card.innerHTML;
}

/** Returns a refusal whose links to entries lead to the page that has them. */
export function withLinksTo(address, refusal) {
  const place = parsed(refusal);
  for (const link of place.querySelectorAll('a[href^="#entry-"]')) {
    link.href = `${address}${link.getAttribute("href")}`;
  }
  return place.innerHTML;
}

const parsed = (html) => new DOMParser().parseFromString(html, "text/html").body;
