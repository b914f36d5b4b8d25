// Changes of an answer that stands on the page only what is new. To lay out all of it anew takes a browser as long as Python takes for it.

import morphdom from "morphdom";

// What stands among an answer's parts and is no part of it.
const stays = (node) => node.dataset?.stays;
const HOW = {
  childrenOnly: true,
  getNodeKey: stays,
  onBeforeElUpdated: (now, next) => !now.isEqualNode(next),
  onBeforeNodeDiscarded: (node) => !stays(node),
};

/** Makes what a place holds like what the other holds, which is not on the page. */
export const putOver = (place, next) => void morphdom(place, next, HOW);

/** Whether something that stays stands right before a part of the answer, but for others that stay. */
export function isRightBefore(one, part) {
  let before = part.previousElementSibling;
  while (before && before !== one && stays(before)) before = before.previousElementSibling;
  return before === one;
}
