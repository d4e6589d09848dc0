/** Sans serif of the reader's machine; its figures are to be of one width. */
export const fontFamily = "system-ui, 'Segoe UI', 'Helvetica Neue', 'DejaVu Sans', Arial, sans-serif";

/** The sizes of text and weights of line that all pictures share, in px. */
export const lettering = { title: 13, text: 11, thin: 1, line: 1.8, lead: 15 } as const;

/** Widths in em of a wide sans serif, so that nothing runs over in a narrower one. */
function letterWidth(letter: string): number {
  if (/[0-9]/.test(letter)) return 0.637;
  if (/[ .,:;'|!iljI()[\]]/.test(letter)) return 0.4;
  if (/[mwMW%@—]/.test(letter)) return 0.98;
  if (/[A-Z+−<>=±]/.test(letter)) return 0.8;
  return letter.charCodeAt(0) > 0x2fff ? 1.05 : 0.63;
}

/** Widths that were asked for: pictures are made of few letters. */
const known = new Map<string, number>();

function knownWidth(letter: string): number {
  let width = known.get(letter);
  if (width === undefined) known.set(letter, (width = letterWidth(letter)));
  return width;
}

/** About the width of a text in px, rather too much than too little. */
export function textWidth(text: string, size: number = lettering.text, bold = false): number {
  let width = 0;
  for (const letter of text) width += knownWidth(letter);
  return width * size * (bold ? 1.1 : 1);
}

/** The text, cut with an ellipsis where it would be wider than `width`. */
export function fitText(text: string, width: number, size: number = lettering.text, bold = false): string {
  if (textWidth(text, size, bold) <= width) return text;
  const letters = [...text];
  let room = width - textWidth("…", size, bold);
  let kept = 0;
  for (const letter of letters) {
    room -= textWidth(letter, size, bold);
    if (room < 0) break;
    kept++;
  }
  return `${letters.slice(0, kept).join("").trimEnd()}…`;
}

/** Between a figure and its unit, where no line may end. */
const beforeUnit = /(?<=\d) (?=(?:%|°C|rpm|kPa|ms|mg|V)(?![a-z]))/g;

/** The text in lines of at most `width`, broken between words; a word that is too long is cut. */
export function wrapText(text: string, width: number, size: number = lettering.text, bold = false): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.replace(beforeUnit, "\u00a0").split(/ +/)) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (line === "" || textWidth(longer, size, bold) <= width) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  lines.push(line);
  return lines.map((each) => fitText(each, width, size, bold));
}
