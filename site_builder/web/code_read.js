// A code is read: by the camera, or in a picture of it. What it says is an address of this very site, which is gone to, or it is shown as text.
// The camera runs only while somebody looks: it stops with the code, with the page, and when the page is out of sight.

import { make, makeButton } from "./page_parts.js";
import { plain } from "./plain_text.js";
import { goTo } from "./travel.js";

const BETWEEN_LOOKS_MS = 150;
const PAGE = /^[^/]*\.html$/;
const HAS_STOPPED = "The camera has stopped. Start it again, or choose a picture of the code.";
const NO_READER = "What reads codes is not on this phone yet. Open this page once with a signal.";
const folder = new URL("./", document.baseURI);

let stop = () => {};

/** Returns what reads a code. `say` says what came of it, `leaving` is the end of the page. */
export function readerOf(say, leaving) {
  const video = make("video", { class: "code-camera", "aria-label": "What the camera sees" });
  Object.assign(video, { muted: true, playsInline: true, hidden: true });
  const end = makeButton("Stop the camera", () => stop());
  end.hidden = true;
  const begin = makeButton("Read a code with the camera", () => look({ video, begin, end, say, leaving }));
  const field = make("input", { id: "code-picture", type: "file", accept: "image/*" });
  field.addEventListener("change", async () => {
    const [file] = field.files;
    if (file) tell(await textOfPicture(file).catch(() => undefined), say);
    field.value = "";
  });
  return [video, make("p", { class: "own-actions" }, begin, end), make("p", {}, make("label", { for: "code-picture" }, "Or a picture of a code")), field];
}

async function look({ video, begin, end, say, leaving }) {
  stop();
  let stream;
  const isOver = new AbortController();
  stop = () => isOver.abort();
  isOver.signal.addEventListener("abort", () => {
    stream?.getTracks().forEach((track) => track.stop());
    const wasAtHand = document.activeElement === end;
    Object.assign(video, { srcObject: null, hidden: true });
    Object.assign(end, { hidden: true });
    Object.assign(begin, { hidden: false });
    if (wasAtHand) begin.focus();
  });
  leaving.addEventListener("abort", stop, { signal: isOver.signal });
  addEventListener("pagehide", stop, { signal: isOver.signal });
  document.addEventListener("visibilitychange", () => document.hidden && stop(), { signal: isOver.signal });
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  } catch ({ name }) {
    const why = name === "NotAllowedError" ? "The camera may not be used here: allow it in the browser" : "No camera can be used here";
    stop();
    return say(`${why}, or choose a picture of the code.`);
  }
  if (isOver.signal.aborted) return stream.getTracks().forEach((track) => track.stop());
  const isTaken = () => {
    stop();
    say(HAS_STOPPED);
  };
  for (const track of stream.getTracks()) track.addEventListener("ended", isTaken, { signal: isOver.signal }); // by the phone, for another app
  say("");
  Object.assign(video, { srcObject: stream, hidden: false });
  Object.assign(begin, { hidden: true });
  Object.assign(end, { hidden: false });
  end.focus({ preventScroll: true });
  await video.play().catch(() => {});
  video.scrollIntoView({ block: "nearest" }); // as high as the camera's picture is only now
  const text = await firstText(video, isOver.signal).catch(() => undefined);
  if (isOver.signal.aborted) return;
  stop();
  tell(text, say);
}

async function firstText(video, over) {
  const read = await detector();
  while (!over.aborted) {
    const text = video.videoWidth ? await read(video) : null;
    if (text !== null) return text;
    await new Promise((goOn) => setTimeout(goOn, BETWEEN_LOOKS_MS));
  }
  return null;
}

/** Returns what finds the text of a code in a picture: the browser's own where it has one for these codes. */
async function detector() {
  const formats = await globalThis.BarcodeDetector?.getSupportedFormats().catch(() => []);
  return formats?.includes("qr_code") ? ownTextIn : textIn;
}

async function ownTextIn(picture) {
  try {
    const [found] = await new globalThis.BarcodeDetector({ formats: ["qr_code"] }).detect(picture);
    return found?.rawValue ?? null;
  } catch {
    return textIn(picture); // a phone may lack the service behind it
  }
}

const textIn = async (picture) => (await import("./code_decoder.js")).textIn(picture);

async function textOfPicture(file) {
  const picture = await createImageBitmap(file).catch(() => null);
  return picture && (await detector())(picture);
}

/** Only a page of this very site is gone to. `text` is null where none was found, and undefined where nothing could look. */
function tell(text, say) {
  if (text === undefined) return say(NO_READER);
  if (text === null) return say("No code was found in the picture. Take it closer, flat and whole, with its white margin.");
  const way = wayHere(text);
  if (way) return void goTo(way);
  return say(`This code leads elsewhere, so it is not opened. It says: ${plain(text)}`);
}

/** Returns the way to a page of this site, without what may stand before its host, or null. */
function wayHere(text) {
  if (!URL.canParse(text)) return null;
  const { origin, pathname, search, hash } = new URL(text);
  const isOurs = origin === folder.origin && pathname.startsWith(folder.pathname) && PAGE.test(pathname.slice(folder.pathname.length));
  return isOurs ? `${pathname}${search}${hash}` : null;
}
