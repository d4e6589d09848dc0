const named: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

/** Text as it stands in HTML, also inside an attribute's quotes; a figure and its percent sign are not torn apart. */
export const escapeText = (text: string): string =>
  text.replace(/[&<>"']/g, (sign) => named[sign]!).replace(/(\d) %/g, "$1\u00a0%");

/** Text as a CSS string: everything but letters, digits and blanks by its number, so that nothing can end it. */
export const cssString = (text: string): string =>
  `"${text.replace(/[^\p{L}\p{N} ]/gu, (sign) => `\\${sign.codePointAt(0)!.toString(16)} `)}"`;
