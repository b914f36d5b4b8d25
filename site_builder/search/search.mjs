// Finds sections by words: typed in part, with a typo, or in other words than the page's. It knows nothing of the page that asks.
// `kept` is what the build wrote: sections, words that are alike, and the index over both. `MiniSearch` is the library's class.

const MOST_FOUND = 12;
const LONGEST = 100; // letters that are looked at
const WEIGHTS = { heading: 5, also: 6, headingAlike: 3, title: 1.5, shows: 2.3, asks: 0.7, says: 1, saysAlike: 0.3 };
const DOCUMENT_WEIGHT = 0.02; // the list of sources holds every word, and is rarely what is looked for
const WORD_WEIGHT = 0.2; // what a word means stands behind the page that does something with it
const CARD_WEIGHT = 0.15; // the page that says why leads on to its card
const ASKED_CARD_WEIGHT = 2; // unless somebody types card

const LEAST_OF_A_CELL_V = 1; // less is how far two cells are apart, or a broken wire
const CELL_VOLTS = /(?<under>(?:under|below|less than) *)?(?<![\d.,])(?<volts>\d(?:[.,]\d+)?) ?v(?:olts?)?\b/giu;

const OPTIONS = { fields: Object.keys(WEIGHTS), idField: "address" };

/** Returns the index over the sections, for the build to write: to read it takes a phone a tenth of the time that making it does. */
export function makeIndex(MiniSearch, { alike, leftOut, sections }) {
  const others = otherWords(alike);
  const empty = new Set(leftOut);
  const inOtherWords = (text) => words(text).flatMap((word) => others.get(stem(word)) ?? []).join(" ");
  const terms = (word) => !empty.has(word.toLowerCase()) && [...new Set([word.toLowerCase(), stem(word)])]; // whole too, for a slip in its ending
  const index = new MiniSearch({ ...OPTIONS, processTerm: terms });
  for (const { address, title, heading, also, shows, asks, says } of sections) {
    const alikes = { headingAlike: inOtherWords(heading), saysAlike: inOtherWords(says.join(" ")) };
    index.add({ address, title, heading, also, shows: shows.join("\n"), asks: asks.join("\n"), says: says.join("\n"), ...alikes });
  }
  return index;
}

/** Returns a function that finds sections for typed text, the likeliest first, each with a line that says why, whole and in parts. */
export function open(MiniSearch, kept) {
  const index = MiniSearch.loadJS(kept.index, OPTIONS);
  const known = new Set(kept.index.index.map(([term]) => term));
  const sections = new Map(kept.sections.map((section) => [section.address, section]));
  const leftOut = new Set(kept.leftOut);
  const others = otherWords(kept.alike);
  const meaning = (word) => others.get(stem(word)) ?? stem(word); // the words that are alike, or its stem
  const isOfTrouble = (address) => address?.startsWith(kept.troublePage);
  const helps = new Map(kept.alike.flatMap(({ words, leadsTo }) => (isOfTrouble(leadsTo) ? words.map((word) => [stem(word), leadsTo]) : [])));
  const phrases = kept.phrases.map(({ said, leadsTo }) => ({ said: words(said), leadsTo }));

  return function find(text) {
    const typed = words(text.slice(0, LONGEST).replace(CELL_VOLTS, (all, ...rest) => (isLow(rest.at(-1)) ? ` ${kept.lowCell.says} ` : all)));
    const meant = typed.filter((word) => !leftOut.has(word));
    const asked = [...new Set([...meant.map((word) => (known.has(stem(word)) ? stem(word) : word)), ...joined(meant)])];
    const phrase = longestPhrase(typed);
    if (!asked.length && !phrase) return [];
    const hits = index.search(asked.join(" "), {
      processTerm: (term) => term,
      boost: WEIGHTS,
      boostDocument: (address) => weightOf(sections.get(address), asked),
      prefix: (term) => !known.has(term) && term.length > 2,
      fuzzy: (term) => !known.has(term) && term.length > 3 && 0.2,
    });
    // What answers every word stands before what says one of them often.
    const weight = ({ score, queryTerms }) => score * (queryTerms.length / asked.length) ** 2;
    hits.sort((one, other) => weight(other) - weight(one));
    const found = phraseFirst(troubleFirst(hits, phrase), phrase).slice(0, MOST_FOUND);
    const said = phrase?.said.filter((word) => !leftOut.has(word)) ?? [];
    return found.map((hit) => shown(sections.get(hit.id), hit.terms, hit.id === phrase?.leadsTo ? said : []));
  };

  /** Whether a voltage that was typed is one of a cell below its floor. What is far less is how much two cells differ. */
  function isLow({ under, volts }, cellV = Number(volts.replace(",", "."))) {
    return cellV >= LEAST_OF_A_CELL_V && (under ? cellV <= kept.lowCell.belowV : cellV < kept.lowCell.belowV);
  }

  /** The phrase of the most words that stands in what was typed: its words side by side, or with words between that are left out. */
  function longestPhrase(typed) {
    return phrases.filter(({ said }) => typed.some((_, place) => standsAt(said, typed, place))).reduce(longer, null);
  }

  function standsAt(said, typed, place) {
    let next = 0;
    for (; place < typed.length && next < said.length; place += 1) {
      if (isMeant(typed[place], said[next])) next += 1;
      else if (!next || !leftOut.has(typed[place])) return false;
    }
    return next === said.length;
  }

  /** Whether a typed word is this one: another ending of it, or one letter off if no page knows it as it was typed. */
  function isMeant(typed, word) {
    if (typed === word || (word.length > 2 && stem(typed) === stem(word))) return true;
    return word.length > 4 && !known.has(typed) && !known.has(stem(typed)) && isOneLetterOff(typed, word);
  }

  function phraseFirst(hits, phrase) {
    if (!phrase || hits[0]?.isUrgent) return hits;
    const first = hits.find(({ id }) => id === phrase.leadsTo) ?? { id: phrase.leadsTo, terms: [] };
    return [first, ...hits.filter((hit) => hit !== first)];
  }

  /** Two words that are one elsewhere: over discharged, cut out. */
  function joined(typed) {
    return typed.slice(1).map((word, place) => stem(typed[place] + word)).filter((word) => known.has(word));
  }

  /** Whoever types a word of trouble, even in part or with a typo, gets the section that helps before all else: a flat pack, but not
   *  a flat car battery, where a phrase says what that is. */
  function troubleFirst(hits, phrase) {
    const explained = new Set((phrase?.said ?? []).map(stem));
    const first = hits.find(({ id, terms }) => terms.some((term) => helps.get(term) === id && !explained.has(term) && !explained.has(stem(term))));
    return first ? [{ ...first, isUrgent: true }, ...hits.filter((hit) => hit !== first)] : hits;
  }

  function shown({ address, title, heading, says, shows, asks }, found, said, terms = new Set([...found, ...said])) {
    const hitMeanings = new Set(Array.from(terms, meaning));
    const isHit = (word) => terms.has(word) || terms.has(stem(word)) || hitMeanings.has(meaning(word));
    // What the section says first is shown where its heading or a phrase alone says the word: in trouble that is the first thing to do.
    const inHeading = new Set(isOfTrouble(address) ? [...words(heading), ...said].flatMap((word) => [word, meaning(word)]) : []);
    const isNew = (word) => !inHeading.has(word) && (terms.has(word) || !inHeading.has(meaning(word)));
    const hitsOf = (line) => new Set(words(line).filter((word) => isHit(word) && isNew(word)).map(meaning)).size;
    const best = (kind, lines) => lines.map((line) => ({ kind, line, hits: hitsOf(line) })).reduce(more, { hits: 0 });
    const first = says.slice(0, isOfTrouble(address) ? 2 : 1).join(" ");
    const { kind, line } = [best("shows", shows), best("says", says), best("asks", asks)].reduce(more, { kind: "says", line: first, hits: 0 });
    return { address, title, heading, kind, line, parts: partsOf(line, isHit) };
  }
}

function weightOf({ isDocument, isWord, isCard }, asked) {
  if (isCard) return asked.includes("card") ? ASKED_CARD_WEIGHT : CARD_WEIGHT;
  return isDocument ? DOCUMENT_WEIGHT : isWord ? WORD_WEIGHT : 1;
}

/** The line in parts, each word that was looked for by itself, so that a page can mark it. */
function partsOf(line, isHit) {
  const parts = line.split(/([\p{L}\p{N}]+)/u).map((text, place) => ({ text, isHit: place % 2 === 1 && isHit(text.toLowerCase()) }));
  return parts.filter(({ text }) => text);
}

const longer = (most, one) => (one.said.length > (most?.said.length ?? 0) ? one : most);

/** Whether one letter more, less or other makes one word of the other. */
function isOneLetterOff(one, other) {
  const [short, long] = one.length < other.length ? [one, other] : [other, one];
  let same = 0;
  while (same < short.length && short[same] === long[same]) same += 1;
  return long.length - short.length < 2 && short.slice(same + (long.length === short.length)) === long.slice(same + 1);
}

const more = (most, one) => (one.hits > most.hits ? one : most);
const otherWords = (alike) => new Map(alike.flatMap((group) => group.words.map((word) => [stem(word), group.words])));

const IS_NOT = /\b(wo|ca|do|does|did|is|are|was|were|has|have|had)n['’]?t\b/gu; // won't, wont and will not are the same words
const whole = (text) => text.toLowerCase().replace(IS_NOT, (_, verb) => `${{ wo: "will", ca: "can" }[verb] ?? verb} not`).replace(/['’]s\b/gu, "");
const words = remembered((text) => whole(text).match(/[\p{L}\p{N}]+/gu) ?? []);

// Charge, charges, charged and charging are one word; so are fuse and fuses. Three letters stay at least, and a doubled letter: drop is not dropped.
const stem = remembered((word) => word.toLowerCase().replace(/^(.{3,}?)(?:ing|ed|es|(?<!s)s|e)$/u, "$1"));

/** The same sentences and words come at each key: what was worked out for them is kept. */
function remembered(work) {
  const kept = new Map();
  return (text) => {
    if (!kept.has(text)) kept.set(text, work(text));
    return kept.get(text);
  };
}
