/** A value as the JSON files have it: indented by two, a line end at the end. */
export const jsonText = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

export const jsonBytes = (value: unknown): Uint8Array => new TextEncoder().encode(jsonText(value));
