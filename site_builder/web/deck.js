// The briefing as a deck: one rule fills the screen of a laptop, and the keys go on and back. Where the browser does not give the whole
// screen, its window is filled. The screens themselves are moved, so that nothing is said twice.

import { make, makeButton, write } from "./page_parts.js";

const NO_ANSWER_MS = 1_000; // of a browser that is asked for the whole screen
const ON = ["ArrowRight", "ArrowDown", "PageDown", " "];
const BACK = ["ArrowLeft", "ArrowUp", "PageUp"];

/** Returns the button that opens the deck. */
export function makeDeck(screens, reader, leaving) {
  const all = screens[0].parentElement;
  const count = make("span", { class: "deck-count" });
  const back = makeButton("Back", () => go(-1));
  const on = makeButton("Next", () => go(1));
  const bar = make("div", { class: "deck-bar", role: "group", "aria-label": "The deck" }, back, count, on, makeButton("End", close));
  const dialog = make("dialog", { class: "deck", "aria-label": "The briefing, one rule at a time" }, bar);
  const opener = makeButton("Show it as slides", open);
  const home = reader.part.parentElement; // where its buttons stand while the deck is closed
  let at = 0;

  dialog.addEventListener("keydown", pressed);
  dialog.addEventListener("close", putAway);
  document.addEventListener("fullscreenchange", () => !document.fullscreenElement && close(), { signal: leaving }); // Escape ends both
  leaving.addEventListener("abort", close);
  return opener;

  async function open() {
    reader.end();
    // The page is asked for the whole screen first: what is opened last lies on top.
    const asked = document.documentElement.requestFullscreen?.({ navigationUI: "hide" }) ?? Promise.resolve();
    await Promise.race([asked.catch(() => {}), new Promise((goOn) => setTimeout(goOn, NO_ANSWER_MS))]);
    if (leaving.aborted || dialog.isConnected) return;
    all.before(dialog);
    dialog.prepend(all);
    bar.before(reader.part);
    reader.from = () => at;
    reader.arriveAt = (screen) => show(screens.indexOf(screen), false);
    dialog.showModal();
    show(0);
  }

  function show(place, takesFocus = true) {
    at = place;
    screens.forEach((screen, number) => screen.toggleAttribute("data-shown", number === at));
    dialog.scrollTop = 0;
    write(count, `${at + 1} of ${screens.length}`);
    back.disabled = at === 0;
    write(on, at === screens.length - 1 ? "Questions" : "Next");
    const heading = screens[at].querySelector("h2");
    heading.tabIndex = -1;
    if (takesFocus) heading.focus();
  }

  function go(by) {
    const place = at + by;
    reader.end();
    if (place < screens.length) return place >= 0 && show(place);
    close();
    const questions = document.getElementById("questions");
    questions.tabIndex = -1;
    questions.focus();
  }

  function pressed(event) {
    const { key, shiftKey, target, ctrlKey, altKey, metaKey } = event;
    if (ctrlKey || altKey || metaKey || (key === " " && target.closest("button, a"))) return;
    const isBack = BACK.includes(key) || (key === " " && shiftKey);
    if (!isBack && !ON.includes(key) && !["Home", "End"].includes(key)) return;
    if (!isBack && key !== "ArrowRight" && hasMoreBelow()) return; // large text is read to its end first
    event.preventDefault();
    if (key === "Home") show(0);
    else if (key === "End") show(screens.length - 1);
    else go(isBack ? -1 : 1);
  }

  function hasMoreBelow() {
    return dialog.scrollTop + dialog.clientHeight < dialog.scrollHeight - 2;
  }

  function close() {
    if (!dialog.open) return;
    dialog.close();
    putAway(); // at once: the page may be left now
  }

  function putAway() {
    if (!dialog.isConnected) return;
    reader.end();
    reader.from = () => 0;
    home.append(reader.part);
    dialog.replaceWith(all);
    if (document.fullscreenElement) document.exitFullscreen();
    opener.focus();
  }
}
