// The last entries on this phone, one set for all calculators: a pack that is entered once is there on every page.
// Each is kept with the moment at which it was typed: a voltage of this morning must not be charged by this afternoon.

const KEY = "fieldslate.entries"; // name -> [text, moment]
const A_MINUTE_MS = 60_000;

/** Keeps what the form holds now; what other calculators asked stays as it is. */
export function keep(values, form) {
  const before = read();
  const now = {};
  for (const [name, [text, moment]] of Object.entries(before)) if (!form.elements[name]) now[name] = [text, moment];
  for (const [name, text] of Object.entries(values)) {
    now[name] = before[name]?.[0] === text ? before[name] : [text, Date.now()];
  }
  try {
    localStorage.setItem(KEY, JSON.stringify(now));
  } catch {
    // Where the browser refuses storage the address still holds the entries.
  }
}

export function kept() {
  return Object.fromEntries(Object.entries(read()).map(([name, [text]]) => [name, text]));
}

/** Returns the names of values that were measured on this phone too long ago to be true still. */
export function outOfDate(values, form) {
  const keepsMs = Number(form.dataset.measuredKeeps) * A_MINUTE_MS;
  const before = read();
  return Array.from(form.querySelectorAll("[data-measured]"), (field) => field.name).filter(
    (name) => name in values && before[name]?.[0] === values[name] && Date.now() - before[name][1] > keepsMs,
  );
}

function read() {
  try {
    return JSON.parse(localStorage.getItem(KEY)) ?? {};
  } catch {
    return {};
  }
}
