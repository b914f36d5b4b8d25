// What the scripts of a page share: elements made without HTML text, and the page's clock in words.

export function make(tag, attributes, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

export function makeButton(words, act, attributes = {}) {
  const button = make("button", { type: "button", class: "button", ...attributes }, words);
  button.addEventListener("click", act);
  return button;
}

/** Writes only what is new, so that nothing is read out twice. */
export function write(element, words) {
  if (element.textContent !== words) element.textContent = words;
}

/** Hides, or shows again, only what is not so yet: a browser looks through the whole page at each change. */
export function hide(element, isHidden) {
  if (element.hidden !== isHidden) element.hidden = isHidden;
}

/** Words beside each other, with a point between them that begins no line. */
export const listed = (words) => words.join("\u00a0· ");

/** As calc writes it: 9:05, with no zero before it. */
export const clockOf = (ms) => new Date(ms).toTimeString().slice(0, 5).replace(/^0/, "");
const MOST_AGO_MS = 6 * 60 * 60_000;

const AN_HOUR_MS = 60 * 60_000;

/** The moment of a time of day, in minutes, at which a plan begins: a few hours ago at most, or else the next. One is made as it begins, or the evening before.
 *  In the night that has an hour twice, the nearer of both. */
export function momentOf(minutes, now) {
  const day = new Date(now);
  const onDay = (days) => new Date(day.getFullYear(), day.getMonth(), day.getDate() + days).setHours(0, minutes);
  const again = (moment) => [moment, moment + AN_HOUR_MS].filter((one) => clockOf(one) === clockOf(moment));
  const away = (moment) => Math.abs(now - moment);
  const [first, second = first] = again([-1, 0, 1].map(onDay).find((moment) => now - moment <= MOST_AGO_MS));
  return away(second) < away(first) ? second : first;
}

export const dayOf = (ms) => new Date(ms).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });

export const atOnDay = (ms) => `${clockOf(ms)} on ${dayOf(ms)}`;

/** The day is named where it is not today: a card can lie overnight. */
export const at = (ms) => (new Date(ms).toDateString() === new Date().toDateString() ? clockOf(ms) : atOnDay(ms));

export function minutesAndSeconds(ms) {
  const seconds = Math.ceil(ms / 1000);
  return [Math.floor(seconds / 60), seconds % 60].map((part) => String(part).padStart(2, "0")).join(":");
}

/** Says whether the page that is open is that of a card. */
export const hasSteps = () => document.querySelector("#answer-body .steps") !== null;
