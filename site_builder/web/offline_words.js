// What the page says of the files on this phone.

export const ALL_SAVED = "Everything is on this phone.";
export const CANNOT_KEEP = "This browser cannot keep Fieldslate: without a signal it will not open here.";
export const SIGN_IN =
  "This network shows its own page first, perhaps to sign in. Do that, then open this page again. Nothing is saved until then.";
export const NO_ANSWER = "The host does not answer. Nothing is saved until it does.";
export const NOT_THERE = "The host does not have what keeps Fieldslate on this phone: without a signal it will not open here.";
export const LOST = "A file on this phone is damaged or gone. It is fetched again when there is a signal.";

export function say(sentence) {
  const line = document.getElementById("offline-state");
  if (line.textContent !== sentence) line.textContent = sentence;
}

// The figure changes often and is read out only with the words behind it, which change at every quarter.
export function sayProgress({ done, total, late }) {
  const line = document.getElementById("offline-state");
  if (!line.querySelector("span")) {
    const [figure, words] = [document.createElement("span"), document.createElement("span")];
    figure.ariaLive = "off";
    line.replaceChildren("Saving to this phone: ", figure, words);
  }
  const [figure, words] = line.querySelectorAll("span");
  figure.textContent = `${megabytes(done)} of ${megabytes(total)}`;
  const quarter = ["", ", a quarter is here", ", half is here", ", three quarters are here", ""][Math.floor((4 * done) / total)];
  const behind = late ? `${quarter}. One file does not arrive. The others are saved meanwhile` : quarter;
  if (words.textContent !== behind) words.textContent = behind;
}

export const sayStopped = (saved, sentence = "It goes on when the signal is back.") => say(`Saving stopped at ${megabytes(saved)}. ${sentence}`);

const megabytes = (bytes) => `${(bytes / 1_000_000).toFixed(1)} MB`;
