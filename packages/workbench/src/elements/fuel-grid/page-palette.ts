import type { PlainPalette } from "./cell-colours.ts";

let context: CanvasRenderingContext2D | null = null;

/** `#rrggbb` of any opaque colour that the browser gives as a computed value. */
function hex(colour: string): string {
  // Made when it is needed: where there is no document the elements can still be imported, as a server that renders pages does.
  context ??= document.createElement("canvas").getContext("2d")!;
  const asHex = context;
  asHex.fillStyle = "#000000";
  asHex.fillStyle = colour;
  const read = String(asHex.fillStyle);
  if (read.startsWith("#")) return read.slice(0, 7);
  // Colours of another kind are drawn, and the pixel is read.
  asHex.fillRect(0, 0, 1, 1);
  const [r, g, b] = asHex.getImageData(0, 0, 1, 1).data;
  return `#${[r!, g!, b!].map((value) => value.toString(16).padStart(2, "0")).join("")}`;
}

/** Reads the page's colours once, and again whenever light, dark or contrast may have changed. */
export class PagePalette {
  private known: PlainPalette | null = null;
  private readonly queries = ["(prefers-color-scheme: dark)", "(forced-colors: active)"].map((query) =>
    matchMedia(query),
  );
  private readonly roots = new MutationObserver(() => this.forget());

  constructor(private readonly changed: () => void) {}

  connect(): void {
    for (const query of this.queries) query.addEventListener("change", this.forget);
    for (const root of [document.documentElement, document.body]) this.roots.observe(root, { attributes: true });
    this.known = null;
  }

  disconnect(): void {
    for (const query of this.queries) query.removeEventListener("change", this.forget);
    this.roots.disconnect();
  }

  /** @param probe - an element whose style names the colours: see the style sheet */
  read(probe: HTMLElement): PlainPalette {
    if (this.known) return this.known;
    const style = getComputedStyle(probe);
    this.known = {
      ink: hex(style.color),
      sheet: hex(style.backgroundColor),
      less: hex(style.borderLeftColor),
      more: hex(style.borderRightColor),
    };
    return this.known;
  }

  private readonly forget = () => {
    this.known = null;
    this.changed();
  };
}
