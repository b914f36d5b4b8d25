// A link as a QR code, drawn on this phone, and as text beside it. The code comes once Python is up; the link is there at once.

import { engineState, open, qrCode } from "./live_engine.js";
import { make, makeButton } from "./page_parts.js";
import { trustedHtml } from "./trusted.js";

const NO_CODE = "The code could not be drawn on this phone. The link says the same.";

/** Returns the code of a link, the link, and what can be done with it. `say` says what was done. */
export function codeOf(link, title, say, leaving) {
  const code = make("div", { class: "code", role: "img", "aria-label": "QR code of the link below" });
  const wait = make("p", { class: "code-wait", role: "status" }, "The code is being drawn.");
  draw(link, code, wait, leaving);
  const copy = makeButton("Copy the link", async () => {
    const isCopied = await navigator.clipboard.writeText(link).then(() => true, () => false);
    say(isCopied ? "The link is copied." : "This browser does not let the link be copied here. Select it and copy it by hand.");
  });
  const share = navigator.share ? [" ", makeButton("Share", () => navigator.share({ title, url: link }).catch(() => {}))] : [];
  return [wait, code, make("p", { class: "code-link" }, link), make("p", { class: "own-actions" }, copy, ...share)];
}

async function draw(link, code, wait, leaving) {
  const failed = () => (wait.textContent = NO_CODE);
  const news = () => engineState() === "failed" && failed();
  await open(document.body.dataset.engine, { news, answered() {} }, leaving);
  news();
  const svg = await qrCode(link).catch(() => null);
  if (svg === null) return failed();
  code.innerHTML = trustedHtml(svg);
  return wait.remove();
}
