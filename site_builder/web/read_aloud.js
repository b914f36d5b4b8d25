// The briefing read aloud by the phone, a sentence at a time, where the browser has a voice that speaks English. A pause ends the
// sentence, which is begun again afterwards: on some phones a browser cannot hold its own voice.

import { make, makeButton, write } from "./page_parts.js";

const BROKEN_OFF = ["interrupted", "canceled"]; // by us

/** Returns what reads screens aloud, with its buttons. `arriveAt` is called with each screen as it is come to. */
export function makeReader(screens, leaving) {
  const said = make("p", { role: "status" });
  const [begin, pause, stop] = [makeButton("Read aloud", () => read()), makeButton("Pause", hold), makeButton("Stop reading", end)];
  const part = make("div", { class: "read-aloud", hidden: "" }, begin, pause, stop, said);
  const reader = { part, end, from: () => 0, arriveAt: () => {} };
  let sentences = []; // {text, screen}
  let place = 0; // of the sentence that is read, or is next
  let spoken = null;
  let isOver = true;

  if (!("speechSynthesis" in window)) return reader;
  speechSynthesis.addEventListener?.("voiceschanged", offer, { signal: leaving }); // they come late in some browsers
  addEventListener("pagehide", end, { signal: leaving });
  leaving.addEventListener("abort", end);
  offer();
  show();
  return reader;

  function offer() {
    part.hidden = voice() === undefined;
  }

  function read() {
    if (isOver) {
      sentences = screens.slice(reader.from()).flatMap((screen) => sentencesOf(screen).map((text) => ({ text, screen })));
      place = 0;
      isOver = false;
    }
    speak();
    show();
    pause.focus();
  }

  function speak() {
    const sentence = sentences[place];
    if (!sentence) return end();
    if (sentence.screen !== sentences[place - 1]?.screen) reader.arriveAt(sentence.screen);
    const mine = new SpeechSynthesisUtterance(sentence.text);
    mine.voice = voice();
    mine.lang = mine.voice?.lang ?? "en-GB";
    mine.onend = () => {
      if (spoken !== mine) return;
      place += 1;
      speak();
    };
    mine.onerror = ({ error }) => {
      if (spoken !== mine || BROKEN_OFF.includes(error)) return;
      end();
      write(said, "This phone could not read it aloud.");
    };
    spoken = mine;
    write(said, "");
    speechSynthesis.speak(mine);
  }

  function hold() {
    quiet();
    show();
    begin.focus();
  }

  function end() {
    const hadFocus = part.contains(document.activeElement);
    isOver = true;
    quiet();
    show();
    if (hadFocus) begin.focus();
  }

  function quiet() {
    if (!spoken) return;
    spoken = null;
    speechSynthesis.cancel();
  }

  function show() {
    write(begin, isOver ? "Read aloud" : "Go on reading");
    begin.hidden = spoken !== null;
    pause.hidden = spoken === null;
    stop.hidden = isOver;
  }
}

/** Returns a voice that speaks English: one on the phone, if there is one, since there may be no signal. */
function voice() {
  const english = speechSynthesis.getVoices().filter(({ lang }) => /^en\b/i.test(lang.replace("_", "-")));
  const here = english.filter(({ localService }) => localService);
  return here.find(({ lang }) => /GB$/i.test(lang)) ?? here[0] ?? english[0];
}

/** Returns what is said of a screen: its rule and the reason, and of the club's own lines those that are filled in. */
function sentencesOf(screen) {
  const whole = screen.cloneNode(true);
  for (const silent of whole.querySelectorAll(".count, .unseen, .source, .drawing, .ways, .write:has([data-club]:empty)")) silent.remove();
  const texts = Array.from(whole.querySelectorAll("h2, p, li"), ({ textContent }) => textContent.replace(/\s+/g, " ").trim());
  return texts.flatMap((text) => text.replace(/([.!?]) (?=[A-Z“])/g, "$1\n").split("\n")).filter(Boolean);
}
