import { css, unsafeCSS } from "lit";

/** Paper and ink: each colour's name with its value in light and in dark. The page and every element take them from here. */
const colours = {
  /** Behind everything. */
  paper: ["#f7f3ea", "#191814"],
  /** Behind tables, charts and fields. */
  sheet: ["#fffdf7", "#211f1a"],
  /** Words and figures. */
  ink: ["#25221c", "#ece5d6"],
  /** Words that stand back. */
  "ink-2": ["#6a6355", "#a39a87"],
  /** Thin lines. */
  rule: ["#d9d1c0", "#38342c"],
  /** Lines that stand out. */
  "rule-2": ["#b9ae98", "#575044"],
  /** A rise of fuel. */
  more: ["#b4592d", "#d9834f"],
  /** A fall of fuel. */
  less: ["#2b8577", "#58b3a3"],
  /** Around what has the focus. */
  focus: ["#25221c", "#ece5d6"],
  /** What needs care. */
  warn: ["#8a5a00", "#d8a748"],
} as const;

/** One scale of spaces, two text sizes and a small one, two line widths. */
const measures = {
  /** The typeface. */
  font: 'system-ui, "Segoe UI", "Helvetica Neue", "DejaVu Sans", sans-serif',
  /** Size of words and figures. */
  text: "14px",
  /** Size of headings. */
  "text-large": "17px",
  /** Size of notes. */
  "text-small": "12px",
  /** Spaces, from the smallest to the largest. */
  "space-1": "4px",
  "space-2": "8px",
  "space-3": "12px",
  "space-4": "16px",
  "space-5": "22px",
  "space-6": "32px",
  /** Width of thin lines. */
  line: "1px",
  /** Width of strong lines. */
  "line-2": "2px",
} as const;

/** What stands in for them where the reader's machine forces its own colours. */
const forced: Readonly<Record<keyof typeof colours, string>> = {
  paper: "Canvas",
  sheet: "Canvas",
  ink: "CanvasText",
  "ink-2": "CanvasText",
  rule: "color-mix(in srgb, CanvasText 40%, Canvas)",
  "rule-2": "CanvasText",
  more: "CanvasText",
  less: "CanvasText",
  focus: "Highlight",
  warn: "CanvasText",
};

/** Name and value of each token; colours follow the `color-scheme` of wherever they are used. */
const tokens: readonly (readonly [name: string, value: string])[] = [
  ...Object.entries(colours).map(([name, [light, dark]]) => [name, `light-dark(${light}, ${dark})`] as const),
  ...Object.entries(measures),
];

/**
 * The tokens as custom properties of the page: `--fw-ink`, `--fw-space-2`, … .
 *
 * Light or dark as the reader's machine has it, unless the root carries the class (or attribute) `dark` or `light`.
 */
export const pageTokens = css`
  :root {
    color-scheme: light dark;
    ${unsafeCSS(tokens.map(([name, value]) => `--fw-${name}: ${value};`).join("\n    "))}
  }
  @media (forced-colors: active) {
    :root {
      ${unsafeCSS(
        Object.entries(forced)
          .map(([name, value]) => `--fw-${name}: ${value};`)
          .join("\n      "),
      )}
    }
  }
  :root:is(.light, [light]) {
    color-scheme: light;
  }
  :root:is(.dark, [dark]) {
    color-scheme: dark;
  }
`;

/**
 * The same tokens inside an element, as `--ink`, `--space-2`, …: the page's where it gives them, the defaults where not.
 *
 * So that an element works alone on a plain page, in that page's own `color-scheme`.
 */
export const elementTokens = css`
  :host {
    ${unsafeCSS(tokens.map(([name, value]) => `--${name}: var(--fw-${name}, ${value});`).join("\n    "))}
  }
  @media (forced-colors: active) {
    :host {
      ${unsafeCSS(
        Object.entries(forced)
          .map(([name, value]) => `--${name}: ${value};`)
          .join("\n      "),
      )}
    }
  }
`;
