// What a value that was kept may look like.

export const isText = (value) => typeof value === "string";
export const isNumber = (value) => typeof value === "number" && isFinite(value);
export const isYesOrNo = (value) => typeof value === "boolean";
export const isListOf = (value, fits) => Array.isArray(value) && value.every(fits);
export const isGroup = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
/** A group whose names can be any, and whose values are all alike. */
export const isGroupOf = (value, fits) => isGroup(value) && Object.values(value).every(fits);
