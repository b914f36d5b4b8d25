// What browsers that ask for it (Trusted Types) take as HTML and as the address of a script, in one place. Nothing else on our
// pages can put either into them.
//
// HTML is what Python renders on this phone, or what the build put into a page: autoescape is on in both. A script's address
// lies beside this page.

const own = { createHTML: (html) => html, createScriptURL: ours };
const policy = globalThis.trustedTypes?.createPolicy("fieldslate", own) ?? own;

export const trustedHtml = (html) => policy.createHTML(html);
/** Returns a document of its own, to look things up in. */
export const parsed = (html) => new DOMParser().parseFromString(trustedHtml(html), "text/html");
export const scriptAddress = (address) => policy.createScriptURL(new URL(address, document.baseURI).href);

function ours(address) {
  const folder = new URL("./", document.baseURI).href;
  if (!address.startsWith(folder)) throw new TypeError(`${address} is no script of ours`);
  return address;
}
