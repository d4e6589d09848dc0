import { pageCss } from "./card/card-css.ts";
import type { Paper } from "./card/paper.ts";

/** Puts the card's page rules into the document for as long as the card is shown: elsewhere the page prints as ever. */
export class PageRules {
  private style: HTMLStyleElement | null = null;

  put(paper: Paper, running: string): void {
    this.style ??= document.head.appendChild(document.createElement("style"));
    const css = pageCss(paper, running);
    if (this.style.textContent !== css) this.style.textContent = css;
  }

  remove(): void {
    this.style?.remove();
    this.style = null;
  }
}
