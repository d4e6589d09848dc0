/** The text without control characters but line ends: names come from files, and a terminal would obey them. */
export const plainText = (text) => text.replace(/(?!\n)\p{Cc}/gu, " ");
