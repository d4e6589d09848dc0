import { cssString } from "./escape.ts";
import { margins, type Paper, papers } from "./paper.ts";

/**
 * How the card is set, as text: the leaf takes it into its styles, a file of its own holds it.
 *
 * On paper it is black on white whatever the screen was; changes and marks hang on type and rules, never on colour.
 */
export const cardCss = `
.handover-card {
  --card-ink: light-dark(#25221c, #ece5d6);
  --card-quiet: light-dark(#6a6355, #a39a87);
  --card-rule: light-dark(#d9d1c0, #38342c);
  --card-axis: light-dark(#958b77, #7d7464);
  --card-paper: light-dark(#fffdf7, #211f1a);
  --card-tint: light-dark(#efe8d9, #302c24);
  --card-more: light-dark(#b4592d, #d9834f);
  --card-less: light-dark(#2b8577, #58b3a3);
  --card-warn: light-dark(#8a5a00, #d8a748);
  --card-hatch: light-dark(#8a806c, #847b6a);
  color: var(--card-ink);
  background: var(--card-paper);
  font: 13.5px/1.4 system-ui, "Segoe UI", "Helvetica Neue", "DejaVu Sans", sans-serif;
  font-variant-numeric: tabular-nums;
  overflow-wrap: anywhere;
}
.handover-card *, .handover-card *::before { box-sizing: border-box; }
.handover-card .card-kind { margin: 0; font-size: 12px; color: var(--card-quiet); }
.handover-card .card-title { font-size: 21px; line-height: 1.25; font-weight: 650; margin: 0 0 8px; }
.handover-card .card-part { font-size: 16px; font-weight: 650; margin: 24px 0 8px; padding-top: 8px; border-top: 2px solid var(--card-ink); }
.handover-card .card-sub { font-size: 13.5px; font-weight: 650; margin: 16px 0 4px; }
.handover-card p { margin: 0 0 6px; max-width: 78ch; }
.handover-card .quiet { color: var(--card-quiet); font-size: 12.5px; }
.handover-card .warns { border-left: 4px solid var(--card-ink); padding: 1px 0 1px 9px; margin: 8px 0; }
.handover-card ul, .handover-card ol { margin: 4px 0 8px; padding-left: 22px; }
.handover-card li { margin: 0 0 5px; }
.handover-card ol > li { margin-bottom: 10px; }
.handover-card ol > li > p:first-child { font-weight: 650; }
.handover-card ol > li::marker { font-weight: 650; }
.handover-card li p { margin: 0 0 2px; }
.handover-card .checks { list-style: none; padding-left: 0; }
.handover-card .checks li { padding-left: 26px; text-indent: -26px; max-width: 78ch; }
.handover-card .checks li::before {
  content: ""; display: inline-block; width: 13px; height: 13px; margin-right: 13px; vertical-align: -2px;
  border: 1.2px solid var(--card-ink);
}
.handover-card .scroll { overflow-x: auto; margin: 6px 0 12px; }
.handover-card .scroll:focus-visible { outline: 2px solid var(--card-ink); outline-offset: 2px; }
.handover-card table { border-collapse: collapse; font-size: 12.5px; }
.handover-card table.facts { width: 100%; }
.handover-card .facts th, .handover-card .facts td {
  text-align: left; vertical-align: top; padding: 3px 14px 3px 0; border-bottom: 1px solid var(--card-rule); font-weight: 400;
}
.handover-card .facts tbody th { font-weight: 600; white-space: nowrap; }
.handover-card .facts .short { white-space: nowrap; }
.handover-card .facts thead th { color: var(--card-quiet); font-size: 12px; border-bottom-color: var(--card-axis); }
.handover-card .cells th, .handover-card .cells td {
  text-align: right; vertical-align: top; padding: 2px 4px; border: 1px solid var(--card-rule); line-height: 1.2; white-space: nowrap;
}
.handover-card .cells td { min-width: 30px; }
.handover-card .cells thead th { border: 0; border-bottom: 1px solid var(--card-axis); font-weight: 600; }
.handover-card .cells th.name { text-align: left; border: 0; padding-left: 0; white-space: normal; }
.handover-card .cells th.corner { font-weight: 400; color: var(--card-quiet); text-align: left; padding-left: 0; }
.handover-card .cells tbody th { font-weight: 600; border-left: 0; border-right: 1px solid var(--card-axis); }
.handover-card .cells b { font-weight: 700; }
.handover-card .cells i { display: block; font-style: normal; font-size: 10px; }
.handover-card .cells .changed { background: var(--card-tint); }
.handover-card .cells .guess { border-bottom: 2px dotted var(--card-ink); }
.handover-card .cells .ceiling { outline: 1.5px solid var(--card-ink); outline-offset: -2px; }
.handover-card figure { display: inline-block; vertical-align: top; width: 320px; max-width: 100%; margin: 0 18px 14px 0; }
.handover-card figure svg { display: block; max-width: 100%; height: auto; }
.handover-card figcaption { font-size: 12px; color: var(--card-quiet); max-width: 78ch; }
.handover-card .lines { display: grid; grid-template-columns: minmax(0, 2fr) minmax(0, 1fr); gap: 0 24px; }
.handover-card .lines div { height: 42px; border-bottom: 1px solid var(--card-ink); display: flex; align-items: end; }
.handover-card .lines span { font-size: 12px; color: var(--card-quiet); padding-bottom: 2px; }
.handover-card table { overflow-wrap: normal; }
@media screen {
  .handover-card .cells tbody th, .handover-card .cells .corner { position: sticky; left: 0; background: var(--card-paper); }
}
@media screen and (max-width: 640px) {
  .handover-card .facts th, .handover-card .facts td { padding-right: 9px; }
  .handover-card .facts tbody th, .handover-card .facts .short { white-space: normal; }
}
@media print {
  .handover-card {
    --card-ink: #000; --card-quiet: #333; --card-rule: #aaa; --card-axis: #555; --card-paper: #fff; --card-tint: #eee;
    --card-more: #000; --card-less: #000; --card-warn: #000; --card-hatch: #555;
    background: none; font-size: 9.5pt; line-height: 1.35;
    print-color-adjust: exact; -webkit-print-color-adjust: exact;
  }
  .handover-card .card-title { font-size: 17pt; }
  .handover-card .card-part { font-size: 12pt; margin: 16pt 0 5pt; padding-top: 5pt; break-after: avoid; }
  .handover-card .card-sub { font-size: 10pt; break-after: avoid; }
  .handover-card .card-kind, .handover-card .quiet, .handover-card table, .handover-card .facts thead th { font-size: 8.5pt; }
  .handover-card figcaption { font-size: 8pt; }
  .handover-card p, .handover-card .checks li { max-width: none; orphans: 2; widows: 2; }
  .handover-card section { orphans: 1; widows: 1; }
  .handover-card .own-page { break-before: page; }
  .handover-card .card-part + p { break-after: avoid; }
  .handover-card .own-page .card-part { margin-top: 0; }
  .handover-card li, .handover-card tr, .handover-card figure, .handover-card .lines div, .handover-card .warns { break-inside: avoid; }
  .handover-card .scroll { overflow: visible; margin: 5pt 0 9pt; }
  .handover-card thead { display: table-header-group; break-inside: avoid; }
  .handover-card .cells { font-size: 7.5pt; }
  .handover-card .whole { break-inside: avoid; }
  .handover-card .cells th, .handover-card .cells td { padding: 1pt 2.5pt; border-width: 0.6pt; }
  .handover-card .cells td { min-width: var(--cell); }
  .handover-card .kept, .handover-card .card-sub + p { break-after: avoid; }
  .handover-card .cells th.name { font-size: 8.5pt; }
  .handover-card .cells i { font-size: 6.2pt; }
  .handover-card .cells .guess { border-bottom: 1.4pt dotted #000; }
  .handover-card .cells .ceiling { outline: 1pt solid #000; outline-offset: -1.2pt; }
  .handover-card figure { margin: 0 14px 9pt 0; }
  .handover-card #card-cautions ul { columns: 2; column-gap: 8mm; font-size: 9pt; }
  .handover-card .facts th, .handover-card .facts td { padding-top: 1.6pt; padding-bottom: 1.6pt; }
  .handover-card .checks li { margin-bottom: 3pt; }
  .handover-card .lines div { height: 25pt; }
  .handover-card #card-sign-off { break-inside: avoid; }
}`;

/**
 * What concerns the whole page when the card is printed: paper, margins, the running title. It belongs to the document:
 * inside an element's own styles no browser looks for it.
 */
export const pageCss = (paper: Paper, running: string): string => `
@page {
  size: ${papers[paper].css};
  margin: ${margins.top}mm ${margins.side}mm ${margins.bottom}mm;
  @bottom-left { content: ${cssString(running)}; font: 7.5pt system-ui, "DejaVu Sans", sans-serif; color: #333; }
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 7.5pt system-ui, "DejaVu Sans", sans-serif; color: #333; }
}
@media print {
  :root { color-scheme: light !important; background: #fff; }
  body { margin: 0; }
}`;
