import type { Card } from "./blocks.ts";
import { cardCss, pageCss } from "./card-css.ts";
import { escapeText } from "./escape.ts";
import type { Paper } from "./paper.ts";
import { renderCard } from "./render-card.ts";

/** The card as one HTML file that needs nothing else: no script, nothing fetched, and a policy that says so. */
export function cardFile(card: Card, paper: Paper): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,">
<title>${escapeText(card.running)}</title>
<style>
:root { color-scheme: light dark; }
body { margin: 0 auto; padding: 16px; max-width: 880px; background: light-dark(#fffdf7, #211f1a); }
${cardCss}
${pageCss(paper, card.running)}
@media print { body { padding: 0; max-width: none; } }
</style>
</head>
<body>
<main class="handover-card">
${renderCard(card, 1)}
</main>
</body>
</html>
`;
}
