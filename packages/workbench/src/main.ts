import { pageTokens } from "./elements/tokens.ts";
import "./workbench/workbench.ts";

const sheet = new CSSStyleSheet();
sheet.replaceSync(`${pageTokens.cssText}
  body { margin: 0; background: var(--fw-paper); color: var(--fw-ink); font: var(--fw-text)/1.45 var(--fw-font); }`);
document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
