// What the address of the page may bring: a pack of this phone whose code is wanted, the entries of a calculator whose code is wanted, or a
// pack that came with a link, which is shown as the link's and kept only when the pilot takes it.

import { codeOf } from "./code_shown.js";
import { newId, save, thingOf, things } from "./own_kept.js";
import { labelQuery, linkOf, packIn } from "./own_link.js";
import { lineOf, measuredOf, refusalOf } from "./own_words.js";
import { make, makeButton } from "./page_parts.js";

const SETTING = /^#setting=([a-z]+(?:-[a-z]+)*)$/;

const asked = (name) => new URLSearchParams(location.search).get(name);

/** Shows the code of a pack of this phone, and says whether one is wanted. */
export function showPackCode({ place, say, leaving }) {
  const pack = thingOf("pack", asked("code"));
  if (!pack) return false;
  const back = make("p", {}, make("a", { class: "go-back", href: `my-packs.html?id=${pack.id}` }, `Back to ${pack.name}`));
  const head = [make("h2", { tabindex: "-1" }, pack.name), make("p", { class: "own-line" }, lineOf("pack", pack))];
  if (pack.refused) {
    const why = make("p", { class: "own-refused" }, `${refusalOf(pack)} A code would bring its label without that, so there is none. A file brings both.`);
    place.replaceChildren(...head, why, make("p", {}, make("a", { class: "button", href: "save-and-share.html" }, "Save all as one file")), back);
    return true;
  }
  const brings = "It brings the label, and what was measured with its day. How the pack was left stays here.";
  place.replaceChildren(...head, ...codeOf(linkOf(pack), pack.name, say, leaving), make("p", {}, brings), back);
  return true;
}

/** Shows the code of a calculator's entries, and says whether it is wanted. */
export function showSettingCode({ place, say, leaving }) {
  const [, page] = SETTING.exec(location.hash) ?? [];
  if (!page || !location.search) return false;
  const entered = [...new URLSearchParams(location.search)].filter(([, text]) => text !== "");
  const link = new URL(`${page}.html`, document.baseURI);
  link.search = new URLSearchParams(entered);
  const brings = "It brings the entries, and readings with their time. Whoever opens it sees them as a link's, and keeps them only by a tap.";
  const back = make("p", {}, make("a", { class: "go-back", href: link.href }, "Back to the entries"));
  place.replaceChildren(make("h2", { tabindex: "-1" }, "These entries as a code"), ...codeOf(link.href, document.title, say, leaving), make("p", {}, brings), back);
  return true;
}

/** Shows the pack of a link, and says whether the address brings one. */
export function showPack({ place, schema, say }) {
  const pack = packIn(location.search, schema, newId());
  if (!pack) return false;
  const mine = things("pack").find(({ name, entries }) => name === pack.name && labelQuery({ entries }) === labelQuery(pack));
  const isHere = Boolean(mine);
  const keepIt = async () => {
    history.replaceState(history.state, "", location.pathname); // a reload offers it no second time
    const open = make("a", { class: "button strong", href: `my-packs.html?id=${pack.id}` }, `Open ${pack.name}`);
    place.replaceChildren(make("p", { class: "is-taken" }, open)); // before: whoever hears of the change would show the whole page
    open.focus();
    const isKept = await save("pack", pack);
    say(isKept ? `${pack.name} is kept on this phone.` : `${pack.name} is there until this page is closed: this phone keeps nothing now.`);
  };
  const back = make("p", {}, make("a", { class: "go-back", href: "my-packs.html" }, "My packs"));
  if (mine?.refused) {
    const why = make("p", { class: "own-refused" }, `${refusalOf(mine)} The link says nothing of that. `, make("a", { href: `my-packs.html?id=${mine.id}` }, `Open ${mine.name}`));
    place.replaceChildren(make("h2", { tabindex: "-1" }, pack.name), why, back);
    return true;
  }
  const measured = measuredOf(pack).map((words) => make("li", {}, words));
  place.replaceChildren(
    make("h2", { tabindex: "-1" }, pack.name),
    make("p", { class: "own-line" }, lineOf("pack", pack)),
    ...(measured.length ? [make("ul", { class: "own-dates" }, ...measured)] : []),
    make("p", { class: "came-by-link" }, isHere ? "This pack came with a link. One of this name and label is among yours already." : "This pack came with a link. It is kept on this phone only once you take it."),
    make("p", { class: "own-actions" },
      makeButton(isHere ? "Keep it a second time" : "Keep it among my packs", keepIt, { class: isHere ? "button" : "button strong" }), " ",
      make("a", { class: "button", href: `charge-settings.html${labelQuery(pack)}` }, "Its label alone, to charge it once"),
    ),
    back,
  );
  return true;
}
