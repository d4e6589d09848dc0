/** What makes a spreadsheet take a text for a formula (also in its full-width form), or begins a cell with a control. */
const RUNS = "(?:\\s*[=+\\-@\uFF1D\uFF0B\uFF0D\uFF20]|[\\t\\r\\n])";
const toGuard = new RegExp(`^'*${RUNS}`);
const guarded = new RegExp(`^'+${RUNS}`);

/**
 * The text with an apostrophe before it where a spreadsheet would run it as a formula; {@link readTableText} takes it away.
 *
 * @see OWASP, CSV Injection
 */
export const guardText = (text: string): string => (toGuard.test(text) ? `'${text}` : text);

/** The text that {@link guardText} was given. */
export const unguardText = (text: string): string => (guarded.test(text) ? text.slice(1) : text);
