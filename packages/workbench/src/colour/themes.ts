/** What the page lies on in light and in dark: the sheet under the cells and the ink on it, as `#rrggbb`. */
export type Theme = "light" | "dark";

/** The face's own sheet and ink, the same as the tokens `sheet` and `ink`. */
export const themes: Readonly<Record<Theme, { readonly paper: string; readonly ink: string }>> = {
  light: { paper: "#fffdf7", ink: "#25221c" },
  dark: { paper: "#211f1a", ink: "#ece5d6" },
};
