/** The header by which a browser keeps a file under a name. */
export const asAttachment = (name: string): string => `attachment; ${fileNamed(name)}`;

/** A file's name in a header: what may not stand there becomes a hyphen. */
export const fileNamed = (name: string): string => `filename="${name.replaceAll(/[^\w.-]+/g, '-')}"`;
