// When a box of reading_boxes.js has its whole reading, so that the next digit belongs to the next cell. Three digits without a point
// are one. With its point a reading has two decimals on one meter and three on another, and a cell has one digit before it: so the
// cells before tell, and in the first the point of the second does.

const DIGITS = /^\d{3}$/;
const DECIMALS = /^\d[.,](\d{2,3})$/;
const A_POINT_ALONE = /^[.,]$/;
const TWO_DIGITS_AND_A_POINT = /^\d\d[.,]$/;

/** Says whether nothing more is to come in a box. The last one waits where that is not sure: its digits would land in the next entry. */
export function isWhole(boxes, box) {
  const text = box.value.trim();
  if (DIGITS.test(text)) return true;
  const decimals = decimalsIn(text);
  if (!decimals) return false;
  const at = boxes.indexOf(box);
  const [first, ...others] = new Set(boxes.slice(0, at).map(({ value }) => decimalsIn(value)).filter(Boolean));
  const wanted = others.length ? undefined : first;
  return decimals === (at === boxes.length - 1 ? wanted : (wanted ?? 3));
}

/** Takes a digit to the cell that it belongs to, once the point that is typed next tells which: “3.823” and “.” are 3.82 and the 3 of the next. */
export function lendDigit(before, box) {
  const decimals = DECIMALS.exec(before.value)?.[1].length;
  if (decimals === 3 && A_POINT_ALONE.test(box.value)) {
    box.value = before.value.at(-1) + box.value;
    before.value = before.value.slice(0, -1);
  } else if (decimals === 2 && TWO_DIGITS_AND_A_POINT.test(box.value)) {
    before.value += box.value[0];
    box.value = box.value.slice(1);
  }
}

function decimalsIn(text) {
  return DIGITS.test(text) ? 2 : DECIMALS.exec(text.trim())?.[1].length;
}
