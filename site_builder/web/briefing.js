// The page of the briefing: it is read aloud, shown as slides, and asks five questions.

import { makeDeck } from "./deck.js";
import * as questions from "./questions.js";
import { makeReader } from "./read_aloud.js";

export function start(leaving) {
  const screens = [...document.querySelectorAll(".screen")];
  const controls = document.getElementById("briefing-controls");
  const reader = makeReader(screens, leaving);
  reader.arriveAt = (screen) => screen.scrollIntoView();
  controls.append(reader.part);
  if ("HTMLDialogElement" in window) controls.prepend(makeDeck(screens, reader, leaving));
  questions.start();
}
