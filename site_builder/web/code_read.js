// A code is read: by the camera, or in a picture of it. What it says is an address of this very site, which is gone to, or it is shown as text.
// The camera runs only while somebody looks: it stops with the code, with the page, and when the page is out of sight.

import { make, makeButton } from "./page_parts.js";
import { goTo } from "./travel.js";

const BETWEEN_LOOKS_MS = 150;
const PAGE = /^[^/]*\.html$/;
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
    if (file) tell(await textOfPicture(file), say);
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
    Object.assign(video, { srcObject: null, hidden: true });
    Object.assign(end, { hidden: true });
    Object.assign(begin, { hidden: false });
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
  say("");
  Object.assign(video, { srcObject: stream, hidden: false });
  Object.assign(begin, { hidden: true });
  Object.assign(end, { hidden: false });
  end.focus();
  await video.play().catch(() => {});
  const text = await firstText(video, isOver.signal);
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
  const { textIn } = formats?.includes("qr_code") ? { textIn: ownTextIn } : await import("./code_decoder.js");
  return textIn;
}

async function ownTextIn(picture) {
  const [found] = await new globalThis.BarcodeDetector({ formats: ["qr_code"] }).detect(picture).catch(() => []);
  return found?.rawValue ?? null;
}

async function textOfPicture(file) {
  const picture = await createImageBitmap(file).catch(() => null);
  return picture && (await detector())(picture);
}

/** Only a page of this very site is gone to. */
function tell(text, say) {
  if (text === null) return say("No code was found in the picture. Take it closer, flat and whole, with its white margin.");
  if (isOurs(text)) return void goTo(text);
  return say(`This code leads elsewhere, so it is not opened. It says: ${text}`);
}

function isOurs(text) {
  if (!URL.canParse(text)) return false;
  const { origin, pathname } = new URL(text);
  return origin === folder.origin && pathname.startsWith(folder.pathname) && PAGE.test(pathname.slice(folder.pathname.length));
}
