// What a value that was kept may look like.

export const isText = (value) => typeof value === "string";
export const isNumber = (value) => typeof value === "number" && isFinite(value);
export const isYesOrNo = (value) => typeof value === "boolean";
export const isListOf = (value, fits) => Array.isArray(value) && value.every(fits);
export const isGroup = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
/** A group whose names can be any, and whose values are all alike. */
export const isGroupOf = (value, fits) => isGroup(value) && Object.values(value).every(fits);

/** Says whether a text is a day of the calendar as it is kept, "2026-05-03". */
export function isADay(text) {
  const noon = new Date(`${text}T12:00Z`);
  return isNumber(noon.getTime()) && noon.toISOString().startsWith(`${text}T`) && text >= "0001";
}

const A_DAY_MS = 86_400_000;

/** Says whether something can have been measured at that moment. A day that is typed is dated noon, so today may lie ahead. */
export const hasBeen = (moment, now) => moment <= now + A_DAY_MS;
