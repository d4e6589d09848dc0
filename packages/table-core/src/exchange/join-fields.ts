/** A field as text, or one that must be in quotes whatever it holds. */
export type OutField = string | { readonly quoted: string };

/**
 * Lines of fields as RFC 4180 text: fields that hold the delimiter, a quote or a line end, or begin or end with a blank,
 * stand in quotes.
 */
export function joinFields(lines: readonly (readonly OutField[])[], delimiter: string, lineEnd: string): string {
  const write = (field: OutField) => {
    const text = typeof field === "string" ? field : field.quoted;
    const needsQuotes = typeof field !== "string" || text.includes(delimiter) || /["\r\n]|^\s|\s$/.test(text);
    return needsQuotes ? `"${text.replaceAll('"', '""')}"` : text;
  };
  return lines.map((fields) => fields.map(write).join(delimiter) + lineEnd).join("");
}
