// Five questions out of the pool. The next five are others, until all have been asked.

import { makeButton } from "./page_parts.js";

const AT_A_TIME = 5;

export function start() {
  const [drawn, pool] = ["drawn", "pool"].map((id) => document.getElementById(id));
  const all = [...document.querySelectorAll(".question")];
  const list = pool.querySelector(".pool-questions");
  let left = [];
  const others = makeButton("Five other questions", () => {
    draw();
    drawn.querySelector("h3").focus();
  });
  drawn.after(others);
  draw();

  function draw() {
    if (left.length < AT_A_TIME) left = shuffled(all);
    const five = left.splice(0, AT_A_TIME);
    for (const answer of drawn.querySelectorAll("details")) answer.open = false;
    drawn.replaceChildren(...five);
    list.replaceChildren(...all.filter((one) => !five.includes(one)));
    for (const heading of drawn.querySelectorAll("h3")) heading.tabIndex = -1;
  }
}

function shuffled(all) {
  const list = [...all];
  for (let last = list.length - 1; last > 0; last -= 1) {
    const other = Math.floor(Math.random() * (last + 1));
    [list[last], list[other]] = [list[other], list[last]];
  }
  return list;
}
