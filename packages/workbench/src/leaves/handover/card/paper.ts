/** Papers the card is made for, in mm. */
export const papers = {
  a4: { name: "A4", css: "A4", widthMm: 210, heightMm: 297 },
  letter: { name: "Letter", css: "letter", widthMm: 215.9, heightMm: 279.4 },
} as const;

export type Paper = keyof typeof papers;

/** Blank on each side of a page, in mm; the running title stands in the lower one. */
export const margins = { top: 14, side: 14, bottom: 17 } as const;

/** Where Letter is the paper of the office: by the region of a language tag, or of the language alone where it says none. */
const letterRegions = new Set(["US", "CA", "MX", "PH", "CL", "CO", "VE", "GT", "CR", "PA", "DO", "PR", "SV", "NI"]);

/** The paper that is likely in the printer of somebody who reads `language` ("en-US"). */
export function usualPaper(language: string): Paper {
  try {
    return letterRegions.has(new Intl.Locale(language).region ?? "") ? "letter" : "a4";
  } catch {
    return "a4";
  }
}
