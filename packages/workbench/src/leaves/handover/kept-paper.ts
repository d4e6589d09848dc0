import { browserShelf } from "../../store/preferences.ts";
import { type Paper, papers, usualPaper } from "./card/paper.ts";

const KEY = "fuelwright-paper";

/** The paper chosen on this machine before, or what is likely in its printer. */
export function keptPaper(): Paper {
  const kept = browserShelf()?.getItem(KEY) ?? "";
  return Object.hasOwn(papers, kept) ? (kept as Paper) : usualPaper(navigator.language);
}

export function keepPaper(paper: Paper): void {
  try {
    browserShelf()?.setItem(KEY, paper);
  } catch {
    // Storage may be full or closed; the choice then lasts as long as the leaf.
  }
}
