// Finds a QR code in a picture, for browsers that have no detector of their own. It comes only when it is wanted.

import "./starting.js"; // as in few_pages.js
import { decodeQR } from "qr/decode.js";

const MOST_PIXELS = 1_000; // a side: a code that fills the picture is read in less, and a slow phone is done sooner

/** Returns the text of the code in a picture, or null where none is found. */
export function textIn(picture) {
  const [width, height] = [picture.videoWidth ?? picture.width, picture.videoHeight ?? picture.height];
  const scale = Math.min(1, MOST_PIXELS / Math.max(width, height));
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale)));
  const drawing = canvas.getContext("2d", { willReadFrequently: true });
  drawing.drawImage(picture, 0, 0, canvas.width, canvas.height);
  try {
    return decodeQR(drawing.getImageData(0, 0, canvas.width, canvas.height));
  } catch {
    return null; // none is in it
  }
}
